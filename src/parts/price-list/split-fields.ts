import { parse } from 'csv-parse/sync';

/**
 * How the quotes of a record stand: every quoted field ends before a delimiter (`clean`), something stands behind a closing
 * quote (`odd`), or a quoted field has no end (`open`).
 */
export type QuoteState = 'clean' | 'odd' | 'open';

export interface SplitRecord {
  readonly state: QuoteState;
  readonly fields: string[];
}

const quote = 34;

/** Blanks around a field do not count; in a list parted by tabs a tab is no blank, and no other is taken away. */
const isBlank = (code: number): boolean =>
  code === 32 || code === 9 || code === 10 || code === 12 || code === 13;

function trimmed(text: string, from: number, to: number): string {
  let start = from;
  let end = to;
  while (start < end && isBlank(text.charCodeAt(start))) start += 1;
  while (end > start && isBlank(text.charCodeAt(end - 1))) end -= 1;
  return text.slice(start, end);
}

/**
 * Splits a record into fields (RFC 4180, section 2): a field that begins with a quote ends with one, two quotes inside of it are
 * one; a quote inside of an unquoted field (as for inches) is a letter like others. Not meaningful where the state is not clean.
 */
export function splitFields(text: string, delimiter: string): SplitRecord {
  const doTrim = delimiter !== '\t';
  if (!text.includes('"')) {
    const fields = text.split(delimiter);
    if (doTrim)
      for (let place = 0; place < fields.length; place += 1) {
        const field = fields[place] as string;
        if (isBlank(field.charCodeAt(0)) || isBlank(field.charCodeAt(field.length - 1)))
          fields[place] = trimmed(field, 0, field.length);
      }
    return { state: 'clean', fields };
  }
  const fields: string[] = [];
  const delimiterCode = delimiter.charCodeAt(0);
  let at = 0;
  let state: QuoteState = 'clean';
  for (;;) {
    let start = at;
    if (doTrim) while (start < text.length && isBlank(text.charCodeAt(start))) start += 1;
    if (text.charCodeAt(start) === quote) {
      let from = start + 1;
      let value = '';
      let end = text.indexOf('"', from);
      while (end >= 0 && text.charCodeAt(end + 1) === quote) {
        value += text.slice(from, end + 1);
        from = end + 2;
        end = text.indexOf('"', from);
      }
      if (end < 0) return { state: 'open', fields };
      fields.push(value + text.slice(from, end));
      at = end + 1;
      if (doTrim) while (at < text.length && isBlank(text.charCodeAt(at))) at += 1;
      if (at >= text.length) return { state, fields };
      if (text.charCodeAt(at) !== delimiterCode) {
        // Whether a later field is left open decides about the lines that follow, so the rest is looked through.
        state = 'odd';
        at = text.indexOf(delimiter, at);
        if (at < 0) return { state, fields };
      }
      at += 1;
    } else {
      const next = text.indexOf(delimiter, at);
      const end = next < 0 ? text.length : next;
      fields.push(doTrim ? trimmed(text, at, end) : text.slice(at, end));
      if (next < 0) return { state, fields };
      at = next + 1;
    }
  }
}

/**
 * Fields of a record whose quotes are odd, as a library reads them that forgives more; null where it cannot either.
 */
export function forgiveFields(text: string, delimiter: string): string[] | null {
  try {
    const [fields, second] = parse(text, {
      delimiter,
      relax_quotes: true,
      relax_column_count: true,
      trim: delimiter !== '\t',
    }) as string[][];
    return fields && !second ? fields : null;
  } catch {
    return null;
  }
}
