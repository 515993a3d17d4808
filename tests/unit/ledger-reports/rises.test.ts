import { describe, expect, it } from 'vitest';
import { type CausePair, findRises, standingOut, type VisitCell } from '../../../src/ledger/index.ts';

const first = 2023 * 12;
const months = 36;
const late = (month: number): boolean => month >= first + months - 3;

interface Ledger {
  readonly pairs: readonly CausePair[];
  readonly visits: readonly VisitCell[];
  /** Concerns and visits by month. */
  months(causeId: string, modelId: string): { month: number; concerns: number; visits: number }[];
}

/** Three models with steady visits, and causes with so many concerns a month on a model. */
function ledger(concerns: (month: number, model: string) => Record<string, number>): Ledger {
  const pairs = new Map<string, CausePair>();
  const visits: VisitCell[] = [];
  const all = Array.from({ length: months }, (_, k) => first + k);
  for (const month of all)
    for (const modelId of ['lark', 'heron', 'minnow']) {
      visits.push({ month, isLate: late(month), modelId, visits: 20 });
      for (const [causeId, count] of Object.entries(concerns(month, modelId))) {
        if (count === 0) continue;
        const key = `${causeId} ${modelId}`;
        const pair = pairs.get(key) ?? { causeId, modelId, now: 0, before: Array(12).fill(0) };
        pairs.set(key, {
          ...pair,
          now: pair.now + (late(month) ? count : 0),
          before: pair.before.map((n, place) => (!late(month) && month % 12 === place ? n + count : n)),
        });
      }
    }
  return {
    pairs: [...pairs.values()],
    visits,
    months: (causeId, modelId) =>
      all.map((month) => ({ month, concerns: concerns(month, modelId)[causeId] ?? 0, visits: 20 })),
  };
}

describe('what rose', () => {
  it('is nothing where nothing changed', () => {
    const { pairs, visits } = ledger(() => ({ belt: 1, battery: 2 }));
    expect(findRises(pairs, visits).rises).toEqual([]);
  });

  it('is named once, on the model that explains it, with its months', () => {
    const { pairs, visits, months } = ledger((month, model) => ({
      belt: 1,
      relay: model === 'heron' && month >= first + 33 && month <= first + 34 ? 6 : month % 9 === 0 ? 1 : 0,
    }));
    const { rises } = findRises(pairs, visits);
    expect(rises.map((rise) => [rise.causeId, rise.modelId])).toEqual([['relay', 'heron']]);
    expect(standingOut(rises[0]?.season ?? [], months('relay', 'heron'))).toEqual({
      from: first + 33,
      until: first + 34,
      concerns: 12,
    });
    expect(rises[0]?.now).toEqual({ concerns: 12, visits: 60 });
  });

  it('is named once, over all models, where every model shows it', () => {
    const { pairs, visits } = ledger((month) => ({ valve: late(month) ? 3 : month % 6 === 0 ? 1 : 0 }));
    const { rises } = findRises(pairs, visits);
    expect(rises.map((rise) => [rise.causeId, rise.modelId])).toEqual([['valve', undefined]]);
  });

  it('is not what comes back every winter', () => {
    const winter = (month: number): boolean => [9, 10, 11].includes(month % 12);
    const { pairs, visits } = ledger((month) => ({ battery: winter(month) ? 4 : 1 }));
    // The last three months are October to December.
    expect((first + months - 3) % 12).toBe(9);
    expect(findRises(pairs, visits).rises).toEqual([]);
  });

  it('answers an empty ledger, one concern, and a ledger without a past', () => {
    expect(findRises([], [])).toEqual({ rises: [], asked: 0, tested: 0 });
    const one = findRises(
      [{ causeId: 'belt', modelId: null, now: 1, before: Array(12).fill(0) }],
      [{ month: first, isLate: true, modelId: null, visits: 1 }],
    );
    expect(one).toMatchObject({ rises: [], tested: 0 });
    expect(standingOut([], [])).toBeNull();
    // Months of visits without a concern, and a month of concerns without visits: nothing can stand out.
    expect(standingOut([], [{ month: first, concerns: 0, visits: 9 }])).toBeNull();
    expect(standingOut([], [{ month: first, concerns: 2, visits: 0 }])).toBeNull();
  });
});
