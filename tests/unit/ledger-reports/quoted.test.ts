import { describe, expect, it } from 'vitest';
import {
  furthestFromQuoted,
  type QuotedJob,
  quartilesOf,
  quotedByCause,
  sumQuoted,
} from '../../../src/ledger/index.ts';

const job = (change: Partial<QuotedJob>): QuotedJob => ({
  jobNumber: 1,
  causeId: 'belt-worn',
  currency: 'USD',
  quotedMinutes: 60,
  actualMinutes: 60,
  quotedAmount: 10_000,
  actualAmount: 10_000,
  ...change,
});

describe('quartiles', () => {
  it('are those of the usual definition', () => {
    // Hyndman and Fan (1996), definition 7, the default of R's quantile(): 1 to 10 give 3.25, 5.5 and 7.75 (value from memory).
    expect(quartilesOf([10, 9, 8, 7, 6, 5, 4, 3, 2, 1])).toEqual({ low: 3.25, median: 5.5, high: 7.75 });
    expect(quartilesOf([1, 2, 3, 4, 5, 6, 7, 8, 9])).toEqual({ low: 3, median: 5, high: 7 });
  });

  it('are not given for a few values', () => {
    expect(quartilesOf([])).toBeNull();
    expect(quartilesOf([1, 2, 3, 4, 5, 6, 7])).toBeNull();
  });
});

describe('quoted and actual', () => {
  it('never adds currencies together, and leaves jobs quoted at nothing out of the ratios only', () => {
    const jobs = [
      ...Array.from({ length: 8 }, (_, k) => job({ jobNumber: k, actualMinutes: 60 + 15 * k })),
      job({ currency: 'EUR', quotedMinutes: 0, quotedAmount: 0, actualAmount: 500 }),
    ];
    const sums = sumQuoted(jobs);
    expect(sums.money).toEqual([
      { currency: 'USD', jobs: 8, quoted: 80_000, actual: 80_000 },
      { currency: 'EUR', jobs: 1, quoted: 0, actual: 500 },
    ]);
    expect(sums.quotedMinutes).toBe(480);
    expect(sums.minutesRatio?.median).toBeCloseTo((60 + 15 * 3.5) / 60, 12);
    expect(sums.moneyRatio).toEqual({ low: 1, median: 1, high: 1 });
  });

  it('names causes by the minutes they missed by, and leaves out what is no one cause', () => {
    const rows = quotedByCause([
      job({ causeId: 'a', actualMinutes: 70 }),
      job({ causeId: 'b', actualMinutes: 20 }),
      job({ causeId: null, actualMinutes: 900 }),
    ]);
    expect(rows.map((row) => row.causeId)).toEqual(['b', 'a']);
    expect(rows[0]?.minutesRatio).toBeNull();
  });

  it('names the jobs furthest apart by money, in the currency of most jobs first', () => {
    const far = furthestFromQuoted(
      [
        job({ jobNumber: 1, actualAmount: 9_000 }),
        job({ jobNumber: 2, actualAmount: 19_000 }),
        job({ jobNumber: 3, currency: 'EUR', actualAmount: 90_000 }),
      ],
      2,
    );
    expect(far.map((one) => one.jobNumber)).toEqual([2, 1]);
  });
});
