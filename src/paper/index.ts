export { type ClaimLine, type ClaimPaper, claimPdf } from './claim-pdf.ts';
export { type Logo, type LogoAnswer, mostLogoBytes, readLogoBytes } from './logo.ts';
export { type MonthBar, type MonthFigure, type MonthPaper, monthPdf } from './month-pdf.ts';
export { type QuotePaper, quotePdf } from './quote-pdf.ts';
export type { Fonts, PaperSize, Typeface } from './sheet.ts';
export { type FileCell, type FileColumn, type FileTable, tableCsv, tableXlsx } from './table-file.ts';
