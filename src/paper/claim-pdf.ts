import { type Fonts, type PaperSize, Sheet } from './sheet.ts';

/** One old part that goes back to its supplier. */
export interface ClaimLine {
  readonly partNumber: string;
  readonly title: string;
  /** What is asked for: the deposit back, or the part replaced. */
  readonly asks: string;
  readonly jobNumber: number;
  /** The machine it was taken off, in words; null where the card has none. */
  readonly machine: string | null;
  /** Day on which it was taken off, in words. */
  readonly takenOff: string;
  readonly mileage: string | null;
  readonly found: string;
}

export interface ClaimPaper {
  readonly shopName: string;
  readonly address: string;
  readonly phone: string;
  readonly supplier: string;
  /** The day it is written, in words. */
  readonly written: string;
  readonly lines: readonly ClaimLine[];
  readonly madeAt: Date;
}

/** A sheet that goes to the supplier with the old parts: which, from which job, what was found, what is asked for. */
export async function claimPdf(claim: ClaimPaper, fonts: Fonts, size: PaperSize): Promise<Uint8Array> {
  const sheet = new Sheet(fonts, size, `Old parts to ${claim.supplier}`, claim.madeAt);
  sheet.text(claim.shopName || 'Our workshop', 14, 'bold');
  for (const line of [claim.address, claim.phone].filter((words) => words !== '')) sheet.text(line, 10);
  sheet.gap(18);
  sheet.text(`To ${claim.supplier}`, 12, 'bold');
  sheet.text(claim.written);
  sheet.gap(10);
  sheet.text(
    claim.lines.length === 1
      ? 'With this sheet goes one old part.'
      : `With this sheet go ${claim.lines.length} old parts.`,
  );
  for (const [place, line] of claim.lines.entries()) {
    sheet.gap(10);
    sheet.need(90);
    sheet.rule();
    sheet.gap(4);
    sheet.text(`${place + 1}. ${line.partNumber}, ${line.title}`, 11, 'bold');
    sheet.text(
      `Our job ${line.jobNumber}${line.machine ? `, ${line.machine}` : ''}; taken off on ${line.takenOff}${line.mileage ? ` at ${line.mileage}` : ''}.`,
    );
    sheet.text(`What we found: ${line.found}`);
    sheet.text(line.asks);
  }
  sheet.gap(12);
  sheet.signature('For the workshop: name, date');
  sheet.signature('Received by the supplier: name, date');
  return sheet.finish(`Old parts to ${claim.supplier}, ${claim.written}`);
}
