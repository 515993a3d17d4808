import { type Fonts, type PaperSize, Sheet } from './sheet.ts';

/** A number of this month beside the month before and the same month of the year before; null where nothing was closed then. */
export interface MonthFigure {
  readonly title: string;
  readonly now: string;
  readonly before: string | null;
  readonly yearBefore: string | null;
}

export interface MonthBar {
  readonly title: string;
  readonly concerns: number;
  readonly before: number | null;
  /** With all above it, 0 to 1. */
  readonly cumulative: number;
  readonly change: string;
}

export interface MonthPaper {
  readonly shopName: string;
  /** Such as "October 2026". */
  readonly month: string;
  /** What a reader should know first: not over yet, nothing closed. */
  readonly remarks: readonly string[];
  readonly figures: readonly MonthFigure[];
  /** What rose: a heading and its evidence, line by line. */
  readonly rises: readonly { readonly title: string; readonly lines: readonly string[] }[];
  readonly risesOver: string;
  readonly cameBack: readonly { readonly title: string; readonly lines: readonly string[] }[];
  readonly cameBackOver: string;
  readonly causes: readonly MonthBar[];
  readonly models: readonly MonthBar[];
  readonly buy: readonly {
    readonly title: string;
    readonly order: number;
    readonly free: number;
    readonly usedInYear: number;
    readonly cost: string;
  }[];
  readonly buyOver: string;
  readonly madeAt: Date;
  /** The day it was printed, in words. */
  readonly printed: string;
}

const figureColumns = [90, 90, 110];
const barColumns = [50, 60, 50, 90];
const barWide = 110;
const buyColumns = [60, 80, 90, 80];

function heading(sheet: Sheet, words: string): void {
  sheet.gap(12);
  sheet.need(60);
  sheet.text(words, 13, 'bold');
  sheet.gap(2);
}

function evidence(
  sheet: Sheet,
  found: readonly { readonly title: string; readonly lines: readonly string[] }[],
): void {
  for (const one of found) {
    sheet.need(50);
    sheet.text(one.title, 10.5, 'bold');
    for (const line of one.lines) sheet.text(line, 9.5, 'regular', 10);
    sheet.gap(4);
  }
}

function bars(sheet: Sheet, name: string, rows: readonly MonthBar[]): void {
  const longest = Math.max(1, ...rows.map((row) => row.concerns));
  sheet.row([name, 'Concerns', 'Up to here', 'Before', 'Change'], barColumns, 8, 'bold');
  sheet.rule();
  for (const row of rows)
    sheet.barRow(
      [
        row.title,
        String(row.concerns),
        `${Math.round(row.cumulative * 100)} %`,
        row.before === null ? '–' : String(row.before),
        row.change,
      ],
      barColumns,
      row.concerns / longest,
      barWide,
    );
}

/** A month of the shop as a PDF file, in black and gray: every bar has its number beside it and starts at zero. */
export async function monthPdf(paper: MonthPaper, fonts: Fonts, size: PaperSize): Promise<Uint8Array> {
  const name = `The month: ${paper.month}`;
  const sheet = new Sheet(fonts, size, [name, paper.shopName].filter(Boolean).join(', '), paper.madeAt);
  if (paper.shopName) sheet.text(paper.shopName, 11, 'bold');
  sheet.text(name, 20, 'bold');
  sheet.text(`Printed ${paper.printed}.`, 9);
  for (const remark of paper.remarks) sheet.text(remark, 10, 'bold');

  heading(sheet, 'In numbers');
  sheet.row(['', 'This month', 'Month before', 'Same month last year'], figureColumns, 9, 'bold');
  sheet.rule();
  for (const figure of paper.figures)
    sheet.row([figure.title, figure.now, figure.before ?? '–', figure.yearBefore ?? '–'], figureColumns, 10);

  heading(sheet, 'What changed');
  if (paper.rises.length === 0) sheet.text('Nothing rose more than chance and season explain.', 10);
  evidence(sheet, paper.rises);
  sheet.text(paper.risesOver, 8.5);

  heading(sheet, 'What came back');
  if (paper.cameBack.length === 0)
    sheet.text('No part of one supplier comes back more than chance explains.', 10);
  evidence(sheet, paper.cameBack);
  sheet.text(paper.cameBackOver, 8.5);

  heading(sheet, 'Recurring faults');
  if (paper.causes.length === 0) sheet.text('Nothing was proven in this month.', 10);
  else {
    bars(sheet, 'Cause', paper.causes);
    sheet.gap(10);
    sheet.need(80);
    bars(sheet, 'Model', paper.models);
  }

  heading(sheet, 'What to buy');
  if (paper.buy.length === 0) sheet.text('Nothing is below its reorder point.', 10);
  else {
    sheet.row(['Kind of part', 'Order', 'Free', 'Used in a year', 'About'], buyColumns, 9, 'bold');
    sheet.rule();
    for (const row of paper.buy)
      sheet.row(
        [row.title, String(row.order), String(row.free), String(row.usedInYear), row.cost],
        buyColumns,
        9.5,
      );
  }
  sheet.gap(2);
  sheet.text(paper.buyOver, 8.5);
  return sheet.finish([paper.shopName || 'Bench Tally', name].join(' · '));
}
