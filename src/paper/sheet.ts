import PDFDocument from 'pdfkit';

/** Font files of one weight, in the order in which they are tried for a sign. */
export type Typeface = readonly Uint8Array[];
export interface Fonts {
  readonly regular: Typeface;
  readonly bold: Typeface;
}
export type PaperSize = 'A4' | 'Letter';

type Weight = 'regular' | 'bold';

/** Points. */
const margin = 54;
const leading = 1.35;

/** Printed for a sign that no font file has. */
const unknown = '?';

/** A page that text is put on from top to bottom, breaking into further pages. Lengths in points. */
export class Sheet {
  readonly #doc: PDFDocument;
  readonly #chunks: Uint8Array[] = [];
  readonly #done: Promise<void>;
  readonly #faces: Readonly<Record<Weight, number>>;
  /** Which font file has a sign, so that each is looked up once. */
  readonly #placeOf = new Map<string, number | null>();
  readonly #missing = new Set<string>();
  #onNewPage: (() => void) | null = null;
  #y = margin;

  constructor(fonts: Fonts, size: PaperSize, title: string, madeAt: Date) {
    // The date is passed in: the same quote gives the same file.
    this.#doc = new PDFDocument({
      size: size === 'A4' ? 'A4' : 'LETTER',
      margin,
      bufferPages: true,
      info: { Title: title, CreationDate: madeAt, Producer: 'Bench Tally', Creator: 'Bench Tally' },
    });
    this.#faces = { regular: fonts.regular.length, bold: fonts.bold.length };
    for (const weight of ['regular', 'bold'] as const)
      for (const [place, bytes] of fonts[weight].entries())
        this.#doc.registerFont(`${weight}-${place}`, Buffer.from(bytes));
    this.#doc.on('data', (chunk: Uint8Array) => this.#chunks.push(chunk));
    this.#done = new Promise((resolve, reject) => {
      this.#doc.on('end', () => resolve());
      this.#doc.on('error', reject);
    });
  }

  get width(): number {
    return this.#doc.page.width - 2 * margin;
  }

  get y(): number {
    return this.#y;
  }

  gap(points: number): void {
    this.#y += points;
  }

  /** Starts a new page where `points` more would not fit. */
  need(points: number): void {
    if (this.#y + points <= this.#doc.page.height - margin - 20) return;
    this.#doc.addPage();
    this.#y = margin;
    this.#onNewPage?.();
  }

  /** What is set at the top of every page that `step` runs on to: the heading of its table. */
  repeating(heading: () => void, step: () => void): void {
    heading();
    this.#onNewPage = heading;
    try {
      step();
    } finally {
      this.#onNewPage = null;
    }
  }

  /** How high some text will be, in points. */
  heightOf(text: string, size: number, width: number, weight: Weight = 'regular'): number {
    return this.wrap(text, width, size, weight).length * size * leading;
  }

  /** Signs that no font file has: each is printed as a question mark. */
  get missing(): string {
    return [...this.#missing].join('');
  }

  /** The first font file that has a sign; null where none has. */
  #place(sign: string, weight: Weight): number | null {
    const key = `${weight}${sign}`;
    const known = this.#placeOf.get(key);
    if (known !== undefined) return known;
    let found: number | null = null;
    for (let place = 0; place < this.#faces[weight] && found === null; place += 1) {
      this.#doc.font(`${weight}-${place}`);
      if (this.#doc._font.font.hasGlyphForCodePoint(sign.codePointAt(0) ?? 0)) found = place;
    }
    this.#placeOf.set(key, found);
    return found;
  }

  #runs(text: string, weight: Weight): { text: string; place: number }[] {
    const runs: { text: string; place: number }[] = [];
    for (const sign of text.normalize('NFC')) {
      let place = this.#place(sign, weight);
      let drawn = sign;
      if (place === null) {
        // Signs without width, such as joiners and marks of direction, leave no gap.
        if (/^[\p{Cf}\p{Mn}\p{Cc}]$/u.test(sign)) continue;
        this.#missing.add(sign);
        drawn = unknown;
        place = this.#place(unknown, weight) ?? 0;
      }
      const last = runs.at(-1);
      if (last && last.place === place) last.text += drawn;
      else runs.push({ text: drawn, place });
    }
    return runs;
  }

  #use(weight: Weight, place: number, size: number): void {
    this.#doc.font(`${weight}-${place}`).fontSize(size);
  }

  widthOf(text: string, size: number, weight: Weight = 'regular'): number {
    return this.#runs(text, weight).reduce((sum, run) => {
      this.#use(weight, run.place, size);
      return sum + this.#doc.widthOfString(run.text);
    }, 0);
  }

  /** Breaks a text into lines that fit; a word longer than a line is cut. */
  wrap(text: string, width: number, size: number, weight: Weight = 'regular'): string[] {
    const lines: string[] = [];
    for (const paragraph of text.split(/\r?\n/)) {
      let line = '';
      for (let word of paragraph.split(/\s+/)) {
        while (this.widthOf(word, size, weight) > width && word.length > 1) {
          let fits = word.length - 1;
          while (fits > 1 && this.widthOf(word.slice(0, fits), size, weight) > width) fits -= 1;
          if (line) lines.push(line);
          line = '';
          lines.push(word.slice(0, fits));
          word = word.slice(fits);
        }
        const longer = line ? `${line} ${word}` : word;
        if (line && this.widthOf(longer, size, weight) > width) {
          lines.push(line);
          line = word;
        } else line = longer;
      }
      lines.push(line);
    }
    return lines;
  }

  #ascent(weight: Weight): number {
    this.#doc.font(`${weight}-0`);
    return this.#doc._font.ascender;
  }

  #put(text: string, x: number, y: number, size: number, weight: Weight): void {
    // The font files differ in height: their letters stand on one line, that of the first.
    const line = y + (this.#ascent(weight) * size) / 1000;
    let at = x;
    for (const run of this.#runs(text, weight)) {
      this.#use(weight, run.place, size);
      this.#doc.text(run.text, at, line, { lineBreak: false, baseline: 'alphabetic' });
      at += this.#doc.widthOfString(run.text);
    }
  }

  /** A paragraph over the whole width or part of it. */
  text(text: string, size = 10, weight: Weight = 'regular', x = 0, width = this.width - x): void {
    for (const line of this.wrap(text, width, size, weight)) {
      this.need(size * leading);
      this.#put(line, margin + x, this.#y, size, weight);
      this.#y += size * leading;
    }
  }

  /**
   * One row of a table: the first cell wraps, the others stand at the right ends of their columns.
   * @param columns widths of the cells after the first
   */
  row(cells: readonly string[], columns: readonly number[], size = 10, weight: Weight = 'regular'): void {
    const [first = '', ...rest] = cells;
    const wide = this.width - columns.reduce((sum, one) => sum + one, 0);
    const lines = this.wrap(first, wide - 8, size, weight);
    this.need(lines.length * size * leading);
    const top = this.#y;
    for (const [place, line] of lines.entries())
      this.#put(line, margin, top + place * size * leading, size, weight);
    let right = margin + wide;
    for (const [place, cell] of rest.entries()) {
      right += columns[place] ?? 0;
      this.#put(cell, right - this.widthOf(cell, size, weight), top, size, weight);
    }
    this.#y = top + lines.length * size * leading + 2;
  }

  /**
   * One row of a chart that is a table too: the first cell, a gray bar on a line from zero, and the numbers.
   * @param share length of the bar, 0 to 1 of `wide` points
   * @param columns widths of the cells after the first
   */
  barRow(cells: readonly string[], columns: readonly number[], share: number, wide: number, size = 9): void {
    const [first = '', ...rest] = cells;
    const room = this.width - wide - columns.reduce((sum, one) => sum + one, 0);
    const lines = this.wrap(first, room - 10, size);
    const height = lines.length * size * leading;
    this.need(height + 2);
    const top = this.#y;
    for (const [place, line] of lines.entries())
      this.#put(line, margin, top + place * size * leading, size, 'regular');
    const left = margin + room;
    this.#doc.rect(left, top + 1.5, Math.max(0, Math.min(1, share)) * wide, size * 0.85).fill('#8a8a8a');
    this.#doc
      .moveTo(left, top - 1)
      .lineTo(left, top + height + 1)
      .lineWidth(0.7)
      .stroke('#000000');
    this.#doc.fillColor('#000000');
    let right = left + wide;
    for (const [place, cell] of rest.entries()) {
      right += columns[place] ?? 0;
      this.#put(cell, right - this.widthOf(cell, size), top, size, 'regular');
    }
    this.#y = top + height + 2;
  }

  /**
   * A picture at the right end of the line that is next, which takes no room of its own.
   * @param width the most it may take, in points; its shape is kept
   */
  cornerPicture(bytes: Uint8Array, width: number, height: number): void {
    this.#doc.image(Buffer.from(bytes), margin + this.width - width, this.#y, {
      fit: [width, height],
      align: 'right',
    });
  }

  rule(): void {
    this.need(6);
    this.#doc
      .moveTo(margin, this.#y + 1)
      .lineTo(margin + this.width, this.#y + 1)
      .lineWidth(0.7)
      .stroke('#444444');
    this.#doc.fillColor('#000000');
    this.#y += 6;
  }

  /** A line of text behind a box, which is ticked or left empty for a pen. */
  tickLine(text: string, isTicked: boolean, size = 10): void {
    this.need(size * leading);
    const side = size * 0.8;
    const top = this.#y + size * 0.2;
    this.#doc
      .moveTo(margin, top)
      .lineTo(margin + side, top)
      .lineTo(margin + side, top + side)
      .lineTo(margin, top + side)
      .lineTo(margin, top - 0.4)
      .lineWidth(0.8)
      .stroke('#000000');
    if (isTicked)
      this.#doc
        .moveTo(margin + side * 0.15, top + side * 0.5)
        .lineTo(margin + side * 0.4, top + side * 0.8)
        .lineTo(margin + side * 0.9, top + side * 0.1)
        .lineWidth(1.2)
        .stroke('#000000');
    this.#doc.fillColor('#000000');
    this.text(text, size, 'regular', size * 1.5);
  }

  /** A line to sign on, with what it is for below. */
  signature(label: string): void {
    this.need(52);
    this.#y += 34;
    this.#doc
      .moveTo(margin, this.#y)
      .lineTo(margin + this.width * 0.6, this.#y)
      .lineWidth(0.7)
      .stroke('#000000');
    this.#y += 4;
    this.text(label, 8);
  }

  /** Ends the file: page numbers at the foot of every page. */
  async finish(foot: string): Promise<Uint8Array> {
    const { start, count } = this.#doc.bufferedPageRange();
    for (let page = start; page < start + count; page += 1) {
      this.#doc.switchToPage(page);
      // Below the margin a text would start a new page.
      this.#doc.page.margins.bottom = 0;
      const words = `${foot} · page ${page - start + 1} of ${count}`;
      this.#put(words, margin, this.#doc.page.height - margin + 8, 8, 'regular');
    }
    this.#doc.end();
    await this.#done;
    return Buffer.concat(this.#chunks);
  }
}
