export { type QuotePaper, quotePdf } from './quote-pdf.ts';
export type { Fonts, PaperSize, Typeface } from './sheet.ts';
