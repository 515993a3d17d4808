import { describe, expect, it } from 'vitest';
import { type CauseCell, findRises, type VisitCell } from '../../../src/ledger/index.ts';

const first = 2023 * 12;
const months = 36;
const late = (month: number): boolean => month >= first + months - 3;

/** Three models with steady visits, and causes with so many concerns a month on a model. */
function ledger(concerns: (month: number, model: string) => Record<string, number>): {
  causes: CauseCell[];
  visits: VisitCell[];
} {
  const causes: CauseCell[] = [];
  const visits: VisitCell[] = [];
  for (let month = first; month < first + months; month += 1)
    for (const modelId of ['lark', 'heron', 'minnow']) {
      visits.push({ month, isLate: late(month), modelId, visits: 20 });
      for (const [causeId, count] of Object.entries(concerns(month, modelId)))
        if (count > 0) causes.push({ month, isLate: late(month), modelId, causeId, concerns: count });
    }
  return { causes, visits };
}

describe('what rose', () => {
  it('is nothing where nothing changed', () => {
    const { causes, visits } = ledger(() => ({ belt: 1, battery: 2 }));
    expect(findRises(causes, visits).rises).toEqual([]);
  });

  it('is named once, on the model that explains it, with its months', () => {
    const { causes, visits } = ledger((month, model) => ({
      belt: 1,
      relay: model === 'heron' && month >= first + 33 && month <= first + 34 ? 6 : month % 9 === 0 ? 1 : 0,
    }));
    const { rises } = findRises(causes, visits);
    expect(rises.map((rise) => [rise.causeId, rise.modelId])).toEqual([['relay', 'heron']]);
    expect(rises[0]?.months).toEqual({ from: first + 33, until: first + 34, concerns: 12 });
    expect(rises[0]?.now).toEqual({ concerns: 12, visits: 60 });
  });

  it('is named once, over all models, where every model shows it', () => {
    const { causes, visits } = ledger((month) => ({ valve: late(month) ? 3 : month % 6 === 0 ? 1 : 0 }));
    const { rises } = findRises(causes, visits);
    expect(rises.map((rise) => [rise.causeId, rise.modelId])).toEqual([['valve', undefined]]);
  });

  it('is not what comes back every winter', () => {
    const winter = (month: number): boolean => [9, 10, 11].includes(month % 12);
    const { causes, visits } = ledger((month) => ({ battery: winter(month) ? 4 : 1 }));
    // The last three months are October to December.
    expect((first + months - 3) % 12).toBe(9);
    expect(findRises(causes, visits).rises).toEqual([]);
  });

  it('answers an empty ledger, one concern, and a ledger without a past', () => {
    expect(findRises([], [])).toEqual({ rises: [], asked: 0, tested: 0 });
    const cell = { month: first, isLate: true, modelId: null };
    const one = findRises([{ ...cell, causeId: 'belt', concerns: 1 }], [{ ...cell, visits: 1 }]);
    expect(one).toMatchObject({ rises: [], tested: 0 });
  });
});
