/** The part of pdfkit that paper is set with; the package brings no types of its own. */
declare module 'pdfkit' {
  export default class PDFDocument {
    constructor(options: {
      size: 'A4' | 'LETTER';
      margin: number;
      bufferPages: boolean;
      info: Record<string, string | Date>;
    });
    readonly page: { width: number; height: number; margins: { bottom: number } };
    /** The font in use. Not in the documented interface: the only way to ask it how high it is and which signs it has. */
    readonly _font: {
      readonly ascender: number;
      readonly font: { hasGlyphForCodePoint(code: number): boolean };
    };
    image(
      source: Uint8Array,
      x: number,
      y: number,
      options: { fit: [number, number]; align?: 'right' },
    ): this;
    registerFont(name: string, bytes: Uint8Array): this;
    font(name: string): this;
    fontSize(points: number): this;
    widthOfString(text: string): number;
    text(text: string, x: number, y: number, options: { lineBreak: boolean; baseline?: 'alphabetic' }): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    lineWidth(points: number): this;
    stroke(color: string): this;
    rect(x: number, y: number, width: number, height: number): this;
    fill(color: string): this;
    fillColor(color: string): this;
    addPage(): this;
    bufferedPageRange(): { start: number; count: number };
    switchToPage(page: number): this;
    end(): void;
    on(event: 'data', told: (chunk: Uint8Array) => void): this;
    on(event: 'end', told: () => void): this;
    on(event: 'error', told: (error: Error) => void): this;
  }
}
