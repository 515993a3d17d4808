import type { Token } from './normalize-text.ts';

/** A text as numbers: ids of features and their weights, brought to length 1. */
export interface Sparse {
  readonly ids: Int32Array;
  readonly values: Float32Array;
}

export type TakeFeature = (id: number, weight: number, first: number, last: number) => void;

// What a feature counts before its rarity. Measured on held-out phrases; the optimum is flat.
const neighborWeight = 0.9;
const nearWeight = 0.3;
const negatedWeight = 0.6;
/** Of all pieces of one word together, so that long words do not outweigh short ones. */
const piecesWeight = 0.9;
const pieceLength = 4;

/** What a closed encoder knows, in a form that can be sent to another thread. */
export interface EncoderState {
  readonly words: Map<string, number>;
  readonly pieces: Map<string, number>;
  readonly ids: Map<number, number>[];
  readonly rarity: Float32Array;
}

/** Word numbers stay below this, so that a pair of them is a small integer, which maps find much faster. */
const stride = 2 ** 15;

/**
 * Turns tokens into numbered features: stems, neighbors, near neighbors, what stands behind a negation, and pieces of
 * words, through which unknown forms of known words still count. It learns while it is open; what it does not know
 * once it is closed is left out.
 */
export class Encoder {
  /** Stem → word number. */
  #words = new Map<string, number>();
  #pieceNumbers = new Map<string, number>();
  readonly #pieces = new Map<string, readonly number[]>();
  /** Key → feature id, one map a kind: words, neighbors, near neighbors, negated, pieces. */
  #ids: Map<number, number>[] = [new Map(), new Map(), new Map(), new Map(), new Map()];
  #next = 0;
  readonly #counts: number[] = [];
  #rarity: Float32Array = new Float32Array(0);
  #isOpen = true;
  // Scratch of `features`, kept so that a text costs no maps.
  #text = 0;
  readonly #lastText: number[] = [];
  readonly #slots: number[] = [];
  readonly #found: number[] = [];
  readonly #sums: number[] = [];

  /** A closed encoder from the state of another; a closed one only reads, so both may use it. */
  static of(state: EncoderState): Encoder {
    const encoder = new Encoder();
    encoder.#words = state.words;
    encoder.#pieceNumbers = state.pieces;
    encoder.#ids = state.ids;
    encoder.#rarity = state.rarity;
    encoder.#next = state.rarity.length;
    encoder.#isOpen = false;
    return encoder;
  }

  /** What it knows once it is closed. */
  state(): EncoderState {
    return { words: this.#words, pieces: this.#pieceNumbers, ids: this.#ids, rarity: this.#rarity };
  }

  /** Number of features. */
  get size(): number {
    return this.#next;
  }

  /** True where the training had the stem often enough to count. */
  knows(stem: string): boolean {
    const word = this.#words.get(stem);
    return word !== undefined && (this.#ids[0] as Map<number, number>).has(word);
  }

  rarity(id: number): number {
    return this.#rarity[id] ?? 0;
  }

  /** Calls back for every feature of the tokens, with the first and last token it comes from. */
  visit(tokens: readonly Token[], take: TakeFeature): void {
    let before = -1;
    let beforeThat = -1;
    let negation = -1;
    let clause = -1;
    for (let i = 0; i < tokens.length; i++) {
      const token = tokens[i] as Token;
      if (token.clause !== clause) {
        clause = token.clause;
        before = -1;
        beforeThat = -1;
        negation = -1;
      }
      const word = this.#number(token.stem);
      if (word >= 0) {
        this.#give(0, word, 1, i, i, take);
        if (before >= 0) this.#give(1, before * stride + word, neighborWeight, i - 1, i, take);
        if (beforeThat >= 0) this.#give(2, beforeThat * stride + word, nearWeight, i - 2, i, take);
        // The neighbor itself is a pair already.
        if (negation >= 0 && i - negation >= 2 && i - negation <= 4)
          this.#give(3, word, negatedWeight, negation, i, take);
      }
      if (token.word === 'not') negation = i;
      const pieces = this.#piecesOf(token.word);
      if (pieces.length > 0) {
        const weight = piecesWeight / Math.sqrt(pieces.length);
        for (const piece of pieces) this.#give(4, piece, weight, i, i, take);
      }
      beforeThat = before;
      before = word;
    }
  }

  /** The features of a text, each once, with their weights summed. */
  features(tokens: readonly Token[]): Sparse {
    let count = 0;
    this.#text += 1;
    this.visit(tokens, (id, weight) => {
      if (this.#lastText[id] === this.#text) {
        const slot = this.#slots[id] as number;
        this.#sums[slot] = (this.#sums[slot] as number) + weight;
        return;
      }
      this.#lastText[id] = this.#text;
      this.#slots[id] = count;
      this.#found[count] = id;
      this.#sums[count] = weight;
      count += 1;
    });
    const ids = new Int32Array(count);
    const values = new Float32Array(count);
    for (let k = 0; k < count; k++) {
      ids[k] = this.#found[k] as number;
      values[k] = this.#sums[k] as number;
    }
    return { ids, values };
  }

  /** Counts one text of the training. */
  count({ ids }: Sparse): void {
    for (const id of ids) this.#counts[id] = (this.#counts[id] ?? 0) + 1;
  }

  /**
   * Forgets the features that fewer texts had than asked, and takes no new ones from now on.
   * @returns for each old id the new one, -1 where it is forgotten
   */
  close(minCount: number, texts: number): Int32Array {
    const renumbered = new Int32Array(this.#next).fill(-1);
    const rarity: number[] = [];
    for (const ids of this.#ids) {
      for (const [key, id] of ids) {
        const count = this.#counts[id] ?? 0;
        if (count < minCount) {
          ids.delete(key);
          continue;
        }
        renumbered[id] = rarity.length;
        ids.set(key, rarity.length);
        rarity.push(Math.log(1 + texts / count));
      }
    }
    this.#next = rarity.length;
    this.#rarity = Float32Array.from(rarity);
    this.#counts.length = 0;
    this.#isOpen = false;
    return renumbered;
  }

  /** Weighted by rarity and brought to length 1. Features that were forgotten fall out. */
  weighted(features: Sparse, renumbered?: Int32Array): Sparse {
    const ids = new Int32Array(features.ids.length);
    const values = new Float32Array(ids.length);
    let count = 0;
    let squares = 0;
    for (let k = 0; k < features.ids.length; k++) {
      const old = features.ids[k] as number;
      const id = renumbered ? (renumbered[old] as number) : old;
      if (id < 0) continue;
      const sum = features.values[k] as number;
      const value = (sum > 1 ? 1 + Math.log(sum) : sum) * (this.#rarity[id] as number);
      ids[count] = id;
      values[count] = value;
      squares += value * value;
      count += 1;
    }
    const scale = squares > 0 ? 1 / Math.sqrt(squares) : 0;
    for (let k = 0; k < count; k++) values[k] = (values[k] as number) * scale;
    return count === ids.length
      ? { ids, values }
      : { ids: ids.slice(0, count), values: values.slice(0, count) };
  }

  #give(kind: number, key: number, weight: number, first: number, last: number, take: TakeFeature): void {
    const ids = this.#ids[kind] as Map<number, number>;
    let id = ids.get(key);
    if (id === undefined) {
      if (!this.#isOpen) return;
      id = this.#next;
      this.#next += 1;
      ids.set(key, id);
    }
    take(id, weight, first, last);
  }

  #number(stem: string): number {
    const known = this.#words.get(stem);
    if (known !== undefined) return known;
    if (!this.#isOpen || this.#words.size >= stride) return -1;
    this.#words.set(stem, this.#words.size);
    return this.#words.size - 1;
  }

  #piecesOf(word: string): readonly number[] {
    if (word.length < 4 || word.startsWith('#')) return [];
    const known = this.#pieces.get(word);
    if (known) return known;
    const padded = `<${word}>`;
    const pieces: number[] = [];
    for (let k = 0; k + pieceLength <= padded.length; k++) {
      const piece = padded.slice(k, k + pieceLength);
      let number = this.#pieceNumbers.get(piece);
      if (number === undefined && this.#isOpen) {
        number = this.#pieceNumbers.size;
        this.#pieceNumbers.set(piece, number);
      }
      if (number !== undefined) pieces.push(number);
    }
    if (this.#isOpen) this.#pieces.set(word, pieces);
    return pieces;
  }
}
