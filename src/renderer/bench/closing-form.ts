import type { Closing } from '../../api/contract.ts';

export type Proof = Extract<Closing, { kind: 'proven' }>['proof'];
export type Apart = Exclude<Closing['kind'], 'proven'>;

export interface PartLine {
  readonly key: string;
  readonly description: string;
  readonly kind: string | null;
  readonly partNumber: string;
  readonly supplier: string;
  readonly quantity: string;
}

/** What is filled in before a concern is closed. */
export interface ClosingForm {
  readonly causeIds: readonly string[];
  /** A cause that the book lacks, in words. */
  readonly words: string;
  readonly apart: Apart | null;
  readonly proof: Proof | null;
  /** Null while the book's own words for the retest stand. */
  readonly retest: string | null;
  readonly parts: readonly PartLine[];
  readonly minutes: string;
  readonly note: string;
}

export const emptyClosing = (known: string | null): ClosingForm => ({
  causeIds: known ? [known] : [],
  words: '',
  apart: null,
  proof: null,
  retest: null,
  parts: [],
  minutes: '',
  note: '',
});

/** A form that was begun earlier, with the cause that was picked just now. */
export const withKnown = (form: ClosingForm, known: string | null): ClosingForm =>
  known === null || form.causeIds.includes(known)
    ? form
    : { ...form, causeIds: [known], words: '', apart: null, retest: null };

/** What is still missing, said as the next thing to do; null when it can be closed. */
export function missing(form: ClosingForm, retest: string): string | null {
  if (form.minutes.trim() !== '' && !/^\d{1,5}([.,]\d)?$/.test(form.minutes.trim()))
    return 'Minutes are a number, such as 25.';
  if (form.apart) return null;
  if (form.causeIds.length === 0 && form.words.trim() === '') return 'Say what it was.';
  if (!form.proof) return 'Say how it was proven.';
  if (form.proof === 'retested' && retest.trim() === '') return 'Say what was retested, how, and how long.';
  if (form.parts.some(({ description }) => description.trim() === ''))
    return 'Name the part, or take its line away.';
  if (form.parts.some(({ quantity }) => !/^[1-9]\d{0,2}$/.test(quantity.trim())))
    return 'The number of parts is a whole number, 1 or more.';
  return null;
}

/** The form as the contract takes it. */
export function closingOf(form: ClosingForm, retest: string): Closing {
  const minutes =
    form.minutes.trim() === '' ? {} : { minutes: Number(form.minutes.trim().replace(',', '.')) };
  const note = form.note.trim() === '' ? {} : { note: form.note.trim() };
  if (form.apart || !form.proof) return { kind: form.apart ?? 'not-reproduced', ...minutes, ...note };
  const words = form.words.trim();
  return {
    kind: 'proven',
    causes: [...form.causeIds.map((causeId) => ({ causeId })), ...(words ? [{ words }] : [])],
    proof: form.proof,
    ...(form.proof === 'retested' ? { retest: retest.trim() } : {}),
    ...minutes,
    ...note,
    parts: form.parts.map((part) => ({
      description: part.description.trim(),
      quantity: Number(part.quantity.trim()),
      ...(part.kind ? { kind: part.kind } : {}),
      ...(part.partNumber.trim() ? { partNumber: part.partNumber.trim() } : {}),
      ...(part.supplier.trim() ? { supplier: part.supplier.trim() } : {}),
      ...(form.causeIds.length === 1 && !words ? { forCause: 0 } : {}),
    })),
  };
}
