import { join } from 'node:path';
import { expect, it } from 'vitest';
import { quotePdf } from '../../../src/paper/index.ts';
import type { QuoteBody, QuoteHead, QuoteLine } from '../../../src/quote/index.ts';
import { readFonts } from '../../../src/store/index.ts';

const fonts = readFonts(join(import.meta.dirname, '../../../seed/fonts'));
const line = (lineId: string, more: Partial<QuoteLine> = {}): QuoteLine => ({
  lineId,
  kind: 'part',
  words: `Front brake pad set, line ${lineId}, with a name that is long enough to be broken into two lines of the table`,
  partNumber: 'TA 123-00456',
  quantity: '1',
  unitPrice: '19.99',
  discountPercent: null,
  taxRateId: null,
  payer: 'customer',
  optionId: null,
  isSafety: true,
  minutes: null,
  causeId: null,
  ...more,
});
const body = (lines: number): QuoteBody => ({
  title: 'Brakes',
  options: [],
  lines: Array.from({ length: lines }, (_, k) => line(String(k))),
  discountPercent: null,
  note: 'Łukasz Čapek, naïve café, Ürün',
  validDays: 30,
  validUntil: null,
  prepay: null,
  forWhom: '',
  vehicleId: null,
  terms: { currency: 'USD', taxRates: [], taxPer: 'document', taxRounding: 'half-away', cashStep: null },
});
const head: QuoteHead = {
  shopName: 'Invented Shop',
  address: '1 Street\nTown',
  phone: '555',
  number: 101,
  issue: 1,
  date: '2026-03-02',
  validUntil: '2026-04-01',
  customer: 'Łukasz Čapek',
  vehicle: 'Tamsu Minnow 50',
  plate: 'AB 1',
  jobNumber: 7,
};
const madeAt = new Date('2026-03-02T09:00:00Z');
const bytesOf = async (...asked: Parameters<typeof quotePdf>) => (await quotePdf(...asked)).bytes;
const paper = (lines: number) => ({ body: body(lines), head, footWords: '', madeAt });
const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');
const pages = (bytes: Uint8Array): number => latin(bytes).match(/\/Type \/Page\b/g)?.length ?? 0;

it('is a PDF file of one page in the size that was asked for', async () => {
  const a4 = await bytesOf(paper(3), fonts, 'A4');
  expect(latin(a4).slice(0, 5)).toBe('%PDF-');
  expect(latin(a4).trimEnd().endsWith('%%EOF')).toBe(true);
  expect(pages(a4)).toBe(1);
  // ISO 216: 210 × 297 mm is 595.28 × 841.89 pt; Letter is 8.5 × 11 in.
  expect(latin(a4)).toContain('/MediaBox [0 0 595.28 841.89]');
  expect(latin(await bytesOf(paper(3), fonts, 'Letter'))).toContain('/MediaBox [0 0 612 792]');
});

it('breaks a long quote into pages', async () => {
  expect(pages(await bytesOf(paper(80), fonts, 'A4'))).toBeGreaterThan(3);
});

it('prints Latin, Cyrillic, Greek and Vietnamese names, and says which signs it cannot', async () => {
  const named = (customer: string) => quotePdf({ ...paper(1), head: { ...head, customer } }, fonts, 'A4');
  expect((await named('Łukasz Лариса Αθηνά Nguyễn')).missing).toBe('');
  expect((await named('王小明')).missing).toBe('王小明');
});

it('is the same file for the same quote', async () => {
  expect(await bytesOf(paper(3), fonts, 'A4')).toEqual(await bytesOf(paper(3), fonts, 'A4'));
});
