import type { NewQuoteLine, QuoteView } from '../../api/contract.ts';

export type ViewLine = QuoteView['lines'][number];

/** A line as it is typed: numbers stay texts until they are sent. */
export interface DraftLine {
  readonly lineId: string;
  readonly kind: ViewLine['kind'];
  readonly words: string;
  readonly partNumber: string | null;
  /** Pieces; minutes for labor. */
  readonly count: string;
  readonly unitPrice: string;
  readonly discount: string;
  readonly taxRateId: string | null;
  readonly payer: ViewLine['payer'];
  readonly optionId: string | null;
  readonly safety: boolean;
  readonly causeId: string | null;
}

/** Everything of a draft that is typed into. */
export interface Draft {
  readonly title: string;
  readonly forWhom: string;
  readonly note: string;
  /** YYYY-MM-DD, or empty for the usual number of days. */
  readonly validUntil: string;
  readonly prepay: string;
  readonly discount: string;
  readonly options: readonly { readonly optionId: string; readonly title: string; readonly note: string }[];
  readonly lines: readonly DraftLine[];
}

/** Without trailing zeros: "90.00" minutes are 90. */
const bare = (text: string): string =>
  text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;

/** Hours typed by an earlier version as minutes, without passing through a binary fraction that shows. */
const minutesText = (line: ViewLine): string =>
  line.minutes === null ? bare((Number(line.quantity) * 60).toFixed(2)) : String(line.minutes);

export function draftOf(quote: QuoteView): Draft {
  return {
    title: quote.title,
    forWhom: quote.forWhom,
    note: quote.note,
    validUntil: quote.validUntil ?? '',
    prepay: quote.prepay ?? '',
    discount: quote.discountPercent ?? '',
    options: quote.options,
    lines: quote.lines.map((line) => ({
      lineId: line.lineId,
      kind: line.kind,
      words: line.words,
      partNumber: line.partNumber,
      count: line.kind === 'labor' ? minutesText(line) : line.quantity,
      unitPrice: line.unitPrice,
      discount: line.discountPercent ?? '',
      taxRateId: line.taxRateId,
      payer: line.payer,
      optionId: line.optionId,
      safety: line.safety,
      causeId: line.causeId,
    })),
  };
}

/** "12,50" and " 12.50 " are 12.50. */
export const numberText = (typed: string): string => typed.trim().replace(',', '.');

const isDecimal = (text: string): boolean => /^\d{1,9}(\.\d{1,6})?$/.test(text);
const isPrice = (text: string): boolean => /^-?\d{1,9}(\.\d{1,6})?$/.test(text);
const isPercent = (text: string): boolean => /^\d{1,3}(\.\d{1,4})?$/.test(text) && Number(text) <= 100;

/** What of a line cannot be sent yet, by field; empty when all of it can. */
export function faultsOf(
  line: DraftLine,
): Partial<Record<'words' | 'count' | 'unitPrice' | 'discount', string>> {
  const faults: ReturnType<typeof faultsOf> = {};
  if (line.words.trim() === '') faults.words = 'Write what the line is for.';
  if (!isDecimal(numberText(line.count)))
    faults.count =
      line.kind === 'labor' ? `“${line.count}” are no minutes.` : `“${line.count}” is no quantity.`;
  if (!isPrice(numberText(line.unitPrice)))
    faults.unitPrice = `“${line.unitPrice}” is no price; write it such as 12.50.`;
  if (line.discount.trim() !== '' && !isPercent(numberText(line.discount)))
    faults.discount = `“${line.discount}” is no discount; write percent from 0 to 100.`;
  return faults;
}

/** What of the rest of a draft cannot be sent yet. */
export function headFaults(draft: Draft): Partial<Record<'prepay' | 'discount' | 'options', string>> {
  const faults: ReturnType<typeof headFaults> = {};
  if (draft.prepay.trim() !== '' && !isDecimal(numberText(draft.prepay)))
    faults.prepay = `“${draft.prepay}” is no amount; write it such as 50.00.`;
  if (draft.discount.trim() !== '' && !isPercent(numberText(draft.discount)))
    faults.discount = `“${draft.discount}” is no discount; write percent from 0 to 100.`;
  if (draft.options.some(({ title }) => title.trim() === '')) faults.options = 'Give each option a name.';
  return faults;
}

export const isSendable = (draft: Draft): boolean =>
  Object.keys(headFaults(draft)).length === 0 &&
  draft.lines.every((line) => Object.keys(faultsOf(line)).length === 0);

const orNull = (typed: string): string | null => numberText(typed) || null;

const sentLine = (line: DraftLine): NewQuoteLine => ({
  lineId: line.lineId,
  kind: line.kind,
  words: line.words.trim(),
  partNumber: line.partNumber,
  ...(line.kind === 'labor'
    ? { minutes: Number(numberText(line.count)) }
    : { quantity: numberText(line.count) }),
  unitPrice: numberText(line.unitPrice),
  discountPercent: orNull(line.discount),
  taxRateId: line.taxRateId,
  payer: line.payer,
  optionId: line.optionId,
  safety: line.safety,
  causeId: line.causeId,
});

/** A draft as it is sent to be kept. */
export function sentDraft(draft: Draft) {
  return {
    title: draft.title.trim(),
    forWhom: draft.forWhom.trim(),
    note: draft.note.trim(),
    validUntil: draft.validUntil || null,
    prepay: orNull(draft.prepay),
    discountPercent: orNull(draft.discount),
    options: draft.options.map((option) => ({ ...option, title: option.title.trim() })),
    lines: draft.lines.map(sentLine),
  };
}

/** The lines with one of them moved up or down; at the end it stays. */
export function movedLine(lines: readonly DraftLine[], lineId: string, by: 1 | -1): readonly DraftLine[] {
  const from = lines.findIndex((line) => line.lineId === lineId);
  const to = from + by;
  const line = lines[from];
  if (!line || to < 0 || to >= lines.length) return lines;
  const next = lines.filter((one) => one.lineId !== lineId);
  next.splice(to, 0, line);
  return next;
}
