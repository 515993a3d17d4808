/**
 * Turns the bytes of a price list into text piece by piece: a byte order mark decides; else it is UTF-8 as long as it
 * can be, and Windows-1252 from the first byte that cannot be UTF-8.
 */
export class TextReader {
  #encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252' | null = null;
  #decoder = new TextDecoder('utf-8', { fatal: true });
  #sawMultibyte = false;
  /** The last bytes of the piece before, where a sign of several bytes may have been cut. */
  #rest = new Uint8Array(0);

  get encoding(): string {
    return this.#encoding ?? 'utf-8';
  }

  push(bytes: Uint8Array): string {
    const all = new Uint8Array(this.#rest.length + bytes.length);
    all.set(this.#rest);
    all.set(bytes, this.#rest.length);
    this.#rest = new Uint8Array(0);
    if (this.#encoding === null) this.#start(all);
    if (this.#encoding !== 'utf-8') return this.#decoder.decode(all, { stream: true });
    const cut = cutSign(all);
    this.#rest = all.slice(cut);
    return this.#utf8(all.subarray(0, cut));
  }

  end(): string {
    const rest = this.#rest;
    this.#rest = new Uint8Array(0);
    if (this.#encoding === 'utf-8') return rest.length > 0 ? this.#utf8(rest) : '';
    return this.#encoding === null ? '' : this.#decoder.decode();
  }

  #start(bytes: Uint8Array): void {
    this.#encoding =
      bytes[0] === 0xff && bytes[1] === 0xfe
        ? 'utf-16le'
        : bytes[0] === 0xfe && bytes[1] === 0xff
          ? 'utf-16be'
          : 'utf-8';
    this.#decoder = new TextDecoder(this.#encoding, { fatal: this.#encoding === 'utf-8', ignoreBOM: false });
  }

  #utf8(bytes: Uint8Array): string {
    try {
      const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: this.#sawMultibyte }).decode(bytes);
      if (!this.#sawMultibyte && text.length < bytes.length) this.#sawMultibyte = true;
      return text;
    } catch {
      // A file that had whole signs of several bytes before is UTF-8 with a broken place, which its row will show.
      if (this.#sawMultibyte) return new TextDecoder('utf-8').decode(bytes);
      this.#encoding = 'windows-1252';
      this.#decoder = new TextDecoder('windows-1252');
      return this.#decoder.decode(bytes, { stream: true });
    }
  }
}

/** Where the last whole sign of UTF-8 ends. */
function cutSign(bytes: Uint8Array): number {
  for (let back = 1; back <= 3 && back <= bytes.length; back += 1) {
    const byte = bytes[bytes.length - back] as number;
    if (byte < 0x80) return bytes.length;
    if (byte >= 0xc0) {
      const needs = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
      return back < needs ? bytes.length - back : bytes.length;
    }
  }
  return bytes.length;
}
