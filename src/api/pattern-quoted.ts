import {
  furthestFromQuoted,
  type QuotedJob,
  type QuotedSums,
  quotedByCause,
  sumQuoted,
} from '../ledger/index.ts';
import type { FileTable } from '../paper/index.ts';
import { partKey } from '../parts/index.ts';
import { againstQuoted, currencyDigits } from '../quote/index.ts';
import { jobsWithQuotes, ledgerSpan, quotedOnJobs } from '../store/index.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import { shopSide } from './part-views.ts';
import { remarkOn, stretchOf, stretchView, titlesOf } from './pattern-views.ts';
import { acceptedAs } from './quote-views.ts';
import { readShopSettings } from './settings.ts';

/** Older jobs say more about older prices than about the way the shop quotes. */
const mostJobs = 5000;
const atATime = 250;
const causesShown = 20;
const jobsShown = 20;

const sumsView = ({ money, ...sums }: QuotedSums) => ({
  ...sums,
  money: money.map(({ currency, jobs, quoted, actual }) => ({
    jobs,
    quoted: { amount: quoted, currency },
    actual: { amount: actual, currency },
  })),
});

type Row = Awaited<ReturnType<typeof jobsWithQuotes>>[number];

/** Some jobs with what was quoted and what was booked; null for quotes of several currencies, which cannot be compared. */
async function compared(
  desk: Desk,
  db: Desk['db'],
  rows: readonly Row[],
  laborRate: string,
): Promise<(QuotedJob | null)[]> {
  const ids = rows.map((row) => row.jobId);
  const found = await quotedOnJobs(db, ids);
  const quotes = Map.groupBy(found.quotes, (quote) => quote.jobId);
  const parts = Map.groupBy(found.parts, (part) => part.jobId);
  const causes = Map.groupBy(found.causes, (cause) => cause.jobId);
  const keyOf = (partNumber: string | null): string | null =>
    partNumber === null ? null : partKey(partNumber);
  const keys = found.parts.map((part) => keyOf(part.partNumber)).filter((key) => key !== null);
  const side = await shopSide(desk, [...new Set(keys)]);
  return rows.map((row) => {
    const accepted = quotes.get(row.jobId) ?? [];
    const [currency, ...others] = new Set(accepted.map((quote) => quote.currency));
    if (currency === undefined || others.length > 0) return null;
    const told = againstQuoted(
      accepted.map(acceptedAs),
      {
        minutes: row.minutes ?? 0,
        parts: (parts.get(row.jobId) ?? []).map((part) => {
          const key = keyOf(part.partNumber);
          const price = key === null ? null : side.priceText(key);
          return {
            key,
            words: part.description,
            quantity: part.quantity,
            price: price?.currency === currency ? price.text : null,
          };
        }),
      },
      laborRate,
      partKey,
    );
    const proven = causes.get(row.jobId) ?? [];
    return {
      jobNumber: row.jobNumber,
      causeId: proven.length === 1 ? (proven[0]?.causeId ?? null) : null,
      currency,
      quotedMinutes: told.quotedMinutes,
      actualMinutes: told.actualMinutes,
      quotedAmount: told.quotedAmount,
      actualAmount: told.actualAmount,
    };
  });
}

/** What closed jobs took against what was quoted for them. */
export async function quotedReport(
  desk: Desk,
  input: ParsedInputOf<'patterns.quoted'>,
): Promise<OutputOf<'patterns.quoted'>> {
  const { book } = await desk.book();
  const titles = titlesOf(book);
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  return inSnapshot(desk, async (db) => {
    const span = await ledgerSpan(db);
    const { laborRate } = await readShopSettings(db);
    const rows = await jobsWithQuotes(db, stretch, mostJobs);
    const booked = rows.filter((row) => row.minutes !== null);
    const jobs: QuotedJob[] = [];
    let severalCurrencies = 0;
    for (let at = 0; at < booked.length; at += atATime) {
      desk.pace.tell(at / booked.length, `${at} of ${booked.length} jobs`);
      await desk.pace.breathe();
      for (const job of await compared(desk, db, booked.slice(at, at + atATime), laborRate)) {
        if (job) jobs.push(job);
        else severalCurrencies += 1;
      }
    }
    return {
      period: stretchView(stretch, now),
      ...sumsView(sumQuoted(jobs)),
      left: { noMinutes: rows.length - booked.length, severalCurrencies },
      causes: quotedByCause(jobs)
        .slice(0, causesShown)
        .map(({ causeId, ...sums }) => ({ causeId, cause: titles.cause(causeId), ...sumsView(sums) })),
      furthest: furthestFromQuoted(jobs, jobsShown).map((job) => ({
        jobNumber: job.jobNumber,
        cause: job.causeId === null ? null : titles.cause(job.causeId),
        quotedMinutes: job.quotedMinutes,
        actualMinutes: job.actualMinutes,
        quoted: { amount: job.quotedAmount, currency: job.currency },
        actual: { amount: job.actualAmount, currency: job.currency },
      })),
      remark:
        remarkOn(stretch, span, now.ms) ??
        (rows.length === mostJobs
          ? `Counted from the newest ${mostJobs.toLocaleString('en-US')} jobs with an accepted quote.`
          : null),
    };
  });
}

const decimal = ({ amount, currency }: { amount: number; currency: string }): number =>
  amount / 10 ** currencyDigits(currency);

/** The jobs furthest from their quotes, as a file. */
export function quotedTable(data: OutputOf<'patterns.quoted'>): FileTable {
  const text = (title: string) => ({ title, kind: 'text' }) as const;
  const number = (title: string) => ({ title, kind: 'number' }) as const;
  return {
    title: 'Quoted and actual',
    notes: [
      `${data.jobs} closed jobs with an accepted quote, from ${toDay(data.period.from)} to ${toDay(data.period.until)}; those furthest apart.`,
      'Labor and parts before tax and discounts; what was not quoted counts at its present price.',
      ...(data.remark === null ? [] : [data.remark]),
    ],
    columns: [
      number('Job'),
      text('Cause'),
      number('Quoted minutes'),
      number('Actual minutes'),
      text('Currency'),
      number('Quoted'),
      number('Actual'),
    ],
    rows: data.furthest.map((job) => [
      job.jobNumber,
      job.cause,
      job.quotedMinutes,
      job.actualMinutes,
      job.quoted.currency,
      decimal(job.quoted),
      decimal(job.actual),
    ]),
  };
}

const toDay = (iso: string): string => iso.slice(0, 10);
