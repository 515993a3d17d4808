import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from '../unit/api/open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop(mkdtempSync(join(tmpdir(), 'bench-tally-rebuild-')));
});
afterAll(() => shop.close());

const causes = ['start-button-open', 'brake-switch-open', 'starter-relay-coil-open'];

type Move =
  | { readonly do: 'open'; readonly vehicle: number }
  | { readonly do: 'close'; readonly job: number; readonly causes: readonly number[]; readonly proof: number }
  | { readonly do: 'unproven'; readonly job: number }
  | { readonly do: 'reopen'; readonly job: number }
  | { readonly do: 'classify'; readonly job: number; readonly as: number };

const moves: fc.Arbitrary<Move> = fc.oneof(
  { weight: 4, arbitrary: fc.record({ do: fc.constant('open' as const), vehicle: fc.nat(2) }) },
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('close' as const),
      job: fc.nat(30),
      // Two of them are told in words alone: both are the same to the count.
      causes: fc.uniqueArray(fc.nat(4), { minLength: 1, maxLength: 4 }),
      proof: fc.nat(2),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('unproven' as const), job: fc.nat(30) }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('reopen' as const), job: fc.nat(30) }) },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant('classify' as const), job: fc.nat(30), as: fc.nat(5) }),
  },
);

interface Card {
  readonly jobId: string;
  readonly concernId: string;
}

const proofs = ['retested', 'replaced', 'measured'] as const;
const classes = ['wrong-diagnosis', 'part-failed', 'workmanship', 'unrelated', 'declined', null] as const;

async function play(move: Move, cards: Card[], vehicles: string[]): Promise<void> {
  const ignoreNo = (error: unknown): void => {
    // Closing what is closed, reopening what is open: refused, and the tally must not move by it.
    if ((error as { code?: string }).code !== 'not-allowed-now') throw error;
  };
  if (move.do === 'open') {
    const job = await shop.call('jobs.open', {
      vehicleId: vehicles[move.vehicle] as string,
      concerns: [{ words: 'nothing happens', symptomId: 'start-dead' }],
    });
    cards.push({ jobId: job.jobId, concernId: job.concerns[0]?.concernId ?? '' });
    shop.pass(3);
    return;
  }
  const card = cards[move.job % Math.max(1, cards.length)];
  if (!card) return;
  if (move.do === 'close')
    await shop
      .call('jobs.close', {
        ...card,
        closing: {
          kind: 'proven',
          causes: move.causes.map((place) =>
            place < causes.length
              ? { causeId: causes[place] as string }
              : { words: `something else ${place}` },
          ),
          proof: proofs[move.proof] ?? 'measured',
          retest: 'twice',
        },
      })
      .catch(ignoreNo);
  if (move.do === 'unproven')
    await shop.call('jobs.close', { ...card, closing: { kind: 'normal' } }).catch(ignoreNo);
  if (move.do === 'reopen') await shop.call('jobs.reopen', card).catch(ignoreNo);
  if (move.do === 'classify')
    await shop.call('jobs.classify', { ...card, as: classes[move.as] ?? null }).catch(ignoreNo);
}

function tallyInFile(): unknown {
  const raw = new Database(`${shop.folder}/shop.db`, { readonly: true });
  const rows = {
    tally: raw.prepare('select * from tally order by symptom_id, cause_id, model_id, family_id').all(),
    closed: raw.prepare('select * from tally_closed order by symptom_id, outcome, model_id, family_id').all(),
  };
  raw.close();
  return rows;
}

describe('the tally', () => {
  it('is the same moved step by step as rebuilt from the jobs', async () => {
    const vehicles: string[] = [];
    for (const modelId of ['pellan-125', 'pellan-vico-50', undefined]) {
      const vehicle = await shop.call('vehicles.save', {
        plate: `RB ${vehicles.length}`,
        ...(modelId ? { modelId } : {}),
      });
      vehicles.push(vehicle.vehicleId);
    }
    const cards: Card[] = [];
    await fc.assert(
      fc.asyncProperty(fc.array(moves, { minLength: 5, maxLength: 25 }), async (list) => {
        for (const move of list) await play(move, cards, vehicles);
        const moved = tallyInFile();
        const { changed } = await shop.call('shop.rebuildTally', {});
        expect(changed).toBe(0);
        expect(tallyInFile()).toEqual(moved);
      }),
      { numRuns: 8, seed: 20260302 },
    );
  });

  it('that was damaged is found and mended by the rebuild', async () => {
    const right = tallyInFile();
    const raw = new Database(`${shop.folder}/shop.db`);
    raw.exec('update tally set weight = weight + 1; delete from tally_closed');
    raw.close();
    const { changed } = await shop.call('shop.rebuildTally', {});
    expect(changed).toBeGreaterThan(3);
    expect(tallyInFile()).toEqual(right);
  });
});
