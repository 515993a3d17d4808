import { type Estimate, estimate } from '../quote/index.ts';
import type { CauseId } from '../terms.ts';
import type { Desk } from './desk.ts';
import { type Question, rankingFor } from './diagnosing.ts';
import { readShopSettings } from './settings.ts';

/** The estimate before diagnosis, from the ranking and what the shop charges. */
export async function estimateFor(desk: Desk, question: Question): Promise<Estimate> {
  const { book } = await desk.book();
  const ranking = await rankingFor(desk, question);
  const settings = await readShopSettings(desk.db);
  const possible = ranking.causes.map((ranked) => {
    const cause = book.causes.get(ranked.causeId as CauseId);
    return {
      causeId: ranked.causeId,
      title: ranked.title,
      probability: ranked.probability,
      minutes: ranked.minutes,
      parts: (cause?.repair.parts ?? []).map((need) => ({
        price: book.partKinds.get(need.kind)?.typicalPrice ?? '0',
        quantity: need.quantity,
      })),
    };
  });
  return estimate(possible, ranking.unlisted, settings);
}
