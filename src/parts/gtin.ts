/** Trade item numbers as a barcode scanner types them: GTIN-8, -12, -13, -14. */
export type GtinRead =
  | {
      readonly ok: true;
      readonly kind: 'GTIN-8' | 'GTIN-12' | 'GTIN-13' | 'GTIN-14';
      readonly gtin14: string;
    }
  | { readonly ok: false; readonly why: string };

const kinds = { 8: 'GTIN-8', 12: 'GTIN-12', 13: 'GTIN-13', 14: 'GTIN-14' } as const;

/**
 * Check digit for the digits before it: weights 3, 1, 3, 1 … from the right, distance to the next multiple of ten
 * (GS1 General Specifications, section 7.9).
 * @param digits only digits
 */
export function gtinCheckDigit(digits: string): number {
  let sum = 0;
  for (let place = 0; place < digits.length; place += 1)
    sum += Number(digits[digits.length - 1 - place]) * (place % 2 === 0 ? 3 : 1);
  return (10 - (sum % 10)) % 10;
}

/** Reads a scanned number; padded with zeros to 14 digits all kinds can be compared. */
export function readGtin(text: string): GtinRead {
  const digits = text.replace(/[\s-]/g, '');
  if (!/^\d+$/.test(digits)) return { ok: false, why: 'a barcode number has digits only' };
  const kind = kinds[digits.length as keyof typeof kinds];
  if (!kind) return { ok: false, why: `a barcode number has 8, 12, 13 or 14 digits, not ${digits.length}` };
  const expected = gtinCheckDigit(digits.slice(0, -1));
  if (expected !== Number(digits.at(-1)))
    return { ok: false, why: `the last digit should be ${expected}: the number was misread or mistyped` };
  return { ok: true, kind, gtin14: digits.padStart(14, '0') };
}
