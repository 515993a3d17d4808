import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Handler, openHandler } from '../../src/api/index.ts';
import { seedFolder } from '../unit/api/open-shop.ts';

const folder = mkdtempSync(join(tmpdir(), 'bench-tally-months-'));
let ms = Date.parse('2025-09-29T20:00:00Z');
let offset = 120;
let handler: Handler;
const call = (name: string, input: unknown): Promise<Record<string, never>> =>
  handler.call(name, input) as Promise<Record<string, never>>;

beforeAll(async () => {
  handler = await openHandler({
    dataFolder: folder,
    door: 'call',
    seedFolder,
    programVersion: 'test',
    clock: () => {
      ms += 10;
      return { ms, offset };
    },
    newId: uuidv7,
  });
});
afterAll(async () => {
  await handler.close();
  rmSync(folder, { recursive: true, force: true });
});

const causes = ['start-button-open', 'brake-switch-open', 'starter-relay-coil-open'];
const kinds = ['starter-relay', 'drive-belt', undefined];
const suppliers = ['Millrace Trade', 'Pinwheel Supply', undefined];
const classes = ['wrong-diagnosis', 'part-failed', 'workmanship', 'unrelated', 'declined', null] as const;
const symptoms = ['start-dead', 'start-click', 'tire-loses-air'];

const card = fc.nat(60);
const moves = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('open' as const),
      vehicle: fc.nat(1),
      symptoms: fc.array(fc.nat(2), { minLength: 1, maxLength: 3 }),
    }),
  },
  {
    weight: 9,
    arbitrary: fc.record({
      do: fc.constant('close' as const),
      card,
      causes: fc.uniqueArray(fc.nat(3), { minLength: 1, maxLength: 2 }),
      parts: fc.array(fc.tuple(fc.nat(2), fc.nat(2), fc.integer({ min: 1, max: 3 })), { maxLength: 3 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('unproven' as const), card }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('reopen' as const), card }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('classify' as const), card, as: fc.nat(5) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('edit' as const), card, symptom: fc.nat(2) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('model' as const), vehicle: fc.nat(3) }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('pass' as const), hours: fc.nat(200) }) },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant('clock' as const), offset: fc.constantFrom(60, 120, -300) }),
  },
);
type Move = typeof moves extends fc.Arbitrary<infer M> ? M : never;

interface Card {
  readonly jobId: string;
  readonly concernId: string;
}
const cards: Card[] = [];
const vehicles: string[] = [];

async function play(move: Move): Promise<void> {
  // Closing what is closed, classifying what is no comeback: refused, and nothing may move by it.
  const ignoreNo = (error: unknown): void => {
    if ((error as { code?: string }).code !== 'not-allowed-now') throw error;
  };
  if (move.do === 'pass') ms += move.hours * 3_600_000;
  if (move.do === 'clock') offset = move.offset;
  if (move.do === 'open') {
    const job = (await call('jobs.open', {
      vehicleId: vehicles[move.vehicle],
      concerns: move.symptoms.map((place) => ({ words: 'something', symptomId: symptoms[place] })),
    })) as unknown as { jobId: string; concerns: { concernId: string }[] };
    for (const { concernId } of job.concerns) cards.push({ jobId: job.jobId, concernId });
  }
  if (move.do === 'model') {
    const vehicleId = vehicles[move.vehicle];
    const { vehicle } = (await call('vehicles.get', { vehicleId })) as unknown as {
      vehicle: { version: number };
    };
    await call('vehicles.save', {
      vehicleId,
      ifVersion: vehicle.version,
      plate: `MC ${move.vehicle}`,
      modelId: ms % 2 === 0 ? 'pellan-125' : 'pellan-vico-50',
    });
  }
  if (!('card' in move)) return;
  const one = cards[move.card % Math.max(1, cards.length)];
  if (!one) return;
  if (move.do === 'close')
    await call('jobs.close', {
      ...one,
      closing: {
        kind: 'proven',
        causes: move.causes.map((place) =>
          place < causes.length ? { causeId: causes[place] } : { words: `something else ${place}` },
        ),
        proof: 'measured',
        parts: move.parts.map(([kind, supplier, quantity]) => ({
          description: 'part',
          quantity,
          ...(kinds[kind] ? { kind: kinds[kind] } : {}),
          ...(suppliers[supplier] ? { supplier: suppliers[supplier] } : {}),
        })),
      },
    }).catch(ignoreNo);
  if (move.do === 'unproven')
    await call('jobs.close', { ...one, closing: { kind: 'normal' } }).catch(ignoreNo);
  if (move.do === 'reopen') await call('jobs.reopen', one).catch(ignoreNo);
  if (move.do === 'classify') await call('jobs.classify', { ...one, as: classes[move.as] }).catch(ignoreNo);
  if (move.do === 'edit')
    await call('jobs.editConcern', { ...one, symptomId: symptoms[move.symptom] }).catch(ignoreNo);
}

const tables = {
  month_concerns: ['month', 'model_id', 'family_id', 'symptom_id'],
  month_causes: ['month', 'cause_id', 'model_id', 'family_id', 'symptom_id'],
  month_repairs: ['grouping', 'month', 'key', 'supplier'],
  day_parts: ['day', 'kind'],
} as const;

function inFile(): Record<string, Record<string, unknown>> {
  const raw = new Database(join(folder, 'shop.db'), { readonly: true });
  const all = Object.fromEntries(
    Object.entries(tables).map(([table, keys]) => [
      table,
      Object.fromEntries(
        (raw.prepare(`select * from ${table}`).all() as Record<string, unknown>[]).map((row) => {
          const rest = Object.fromEntries(
            Object.entries(row).filter(([name]) => !keys.includes(name as never)),
          );
          return [keys.map((name) => row[name]).join('|'), rest];
        }),
      ),
    ]),
  );
  raw.close();
  return all;
}

/** The same counts from the jobs, one by one, in plain loops that share nothing with the program. */
function byHand(): Record<string, Record<string, Record<string, number>>> {
  const raw = new Database(join(folder, 'shop.db'), { readonly: true });
  type Row = Record<string, string | number | null>;
  const rows = (text: string): Row[] => raw.prepare(text).all() as Row[];
  const closed = rows(`select * from concerns where state = 'closed' order by closed_ms, id`);
  const returns = rows('select comeback_of, comeback_state from concerns where comeback_of is not null');
  const allCauses = rows('select * from concern_causes');
  const allParts = rows('select * from concern_parts');
  raw.close();
  const made: Record<string, Record<string, Record<string, number>>> = {};
  const add = (table: string, key: unknown[], sums: Record<string, number>): void => {
    made[table] ??= {};
    made[table][key.join('|')] ??= {};
    const row = made[table][key.join('|')] as Record<string, number>;
    for (const [name, count] of Object.entries(sums)) row[name] = (row[name] ?? 0) + count;
  };
  const visited = new Set<unknown>();
  for (const row of closed) {
    const wall = new Date(Number(row.closed_ms) + Number(row.closed_offset) * 60_000);
    const month = wall.getUTCFullYear() * 12 + wall.getUTCMonth();
    const back = (state: string): boolean =>
      returns.some((later) => later.comeback_of === row.id && later.comeback_state === state);
    const takenBack = back('diagnosis-taken-back');
    const stands = row.outcome === 'proven' && !takenBack;
    const isFirst = !visited.has(row.job_id);
    visited.add(row.job_id);
    const machine = [row.model_id ?? '', row.family_id ?? '', row.symptom_id ?? ''];
    if (stands || isFirst)
      add('month_concerns', [month, ...machine], { concerns: stands ? 1 : 0, visits: isFirst ? 1 : 0 });
    const mine = new Set(
      allCauses.filter((each) => each.concern_id === row.id).map((each) => each.cause_id ?? ''),
    );
    if (stands) for (const cause of mine) add('month_causes', [month, cause, ...machine], { concerns: 1 });
    const parts = allParts.filter((each) => each.concern_id === row.id);
    for (const part of parts)
      add('day_parts', [Math.floor(Number(row.closed_ms) / 86_400_000), part.kind ?? ''], {
        quantity: Number(part.quantity),
      });
    if (row.outcome !== 'proven') continue;
    const groups = new Set<string>([['all', month, '', ''].join('|')]);
    for (const cause of mine) groups.add(['cause', month, cause, ''].join('|'));
    for (const part of parts) {
      groups.add(['part-kind', month, part.kind ?? '', ''].join('|'));
      groups.add(['supplier', month, part.supplier ?? '', ''].join('|'));
      if (part.kind !== null && part.supplier !== null)
        groups.add(['part-kind-and-supplier', month, part.kind, part.supplier].join('|'));
    }
    for (const group of groups)
      add('month_repairs', [group], {
        repairs: 1,
        did_not_hold: stands && back('diagnosis-stands') ? 1 : 0,
        taken_back: takenBack ? 1 : 0,
      });
  }
  return made;
}

describe('the counts by month', () => {
  it('moved step by step are the same as counted from the jobs, by hand and by the rebuild', async () => {
    for (const modelId of ['pellan-125', 'pellan-vico-50', undefined, 'pellan-125']) {
      const { vehicleId } = (await call('vehicles.save', {
        plate: `MC ${vehicles.length}`,
        ...(modelId ? { modelId } : {}),
      })) as unknown as { vehicleId: string };
      vehicles.push(vehicleId);
    }
    const seen = { repairs: 0, takenBack: 0, didNotHold: 0 };
    await fc.assert(
      fc.asyncProperty(fc.array(moves, { minLength: 10, maxLength: 50 }), async (list) => {
        for (const move of list) await play(move);
        const moved = inFile();
        expect(moved).toEqual({
          month_concerns: {},
          month_causes: {},
          month_repairs: {},
          day_parts: {},
          ...byHand(),
        });
        const { changed } = (await call('shop.rebuildTally', {})) as unknown as { changed: number };
        expect(changed).toBe(0);
        expect(inFile()).toEqual(moved);
        for (const [key, row] of Object.entries(moved.month_repairs ?? {})) {
          if (!key.startsWith('all|')) continue;
          const { repairs, did_not_hold, taken_back } = row as Record<string, number>;
          seen.repairs += repairs ?? 0;
          seen.didNotHold += did_not_hold ?? 0;
          seen.takenBack += taken_back ?? 0;
        }
      }),
      { numRuns: 10, seed: 20260929 },
    );
    // The play must have reached what it is about.
    expect(seen.repairs).toBeGreaterThan(50);
    expect(seen.didNotHold).toBeGreaterThan(5);
    expect(seen.takenBack).toBeGreaterThan(5);
  }, 120_000);

  it('give the same answers over any period as the jobs counted one by one', async () => {
    const raw = new Database(join(folder, 'shop.db'), { readonly: true });
    type Row = Record<string, string | number | null>;
    const rows = (text: string): Row[] => raw.prepare(text).all() as Row[];
    const returns = rows('select comeback_of, comeback_state from concerns where comeback_of is not null');
    const allCauses = rows('select * from concern_causes');
    const allParts = rows('select * from concern_parts');
    const visited = new Set<unknown>();
    const facts = rows(`select * from concerns where state = 'closed' order by closed_ms, id`).map((row) => {
      const isFirst = !visited.has(row.job_id);
      visited.add(row.job_id);
      const back = (state: string): boolean =>
        returns.some((later) => later.comeback_of === row.id && later.comeback_state === state);
      const wrong = back('diagnosis-taken-back');
      return {
        ...row,
        isFirst,
        isProven: row.outcome === 'proven',
        wrong,
        held: !wrong && back('diagnosis-stands'),
        doubt: !wrong && !back('diagnosis-stands') && back('in-doubt'),
        causes: allCauses.filter((each) => each.concern_id === row.id).map((each) => each.cause_id ?? ''),
        parts: allParts.filter((each) => each.concern_id === row.id),
      } as Row & {
        isFirst: boolean;
        isProven: boolean;
        wrong: boolean;
        held: boolean;
        doubt: boolean;
        causes: string[];
        parts: Row[];
      };
    });
    raw.close();
    const first = Number(facts[0]?.closed_ms) - 20 * 86_400_000;
    const length = ms - first + 20 * 86_400_000;
    let counted = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 0, max: 1000 }),
        fc.integer({ min: 0, max: 1000 }),
        fc.constantFrom('cause', 'model', 'family', 'symptom', 'supplier', 'part-kind' as const),
        fc.option(fc.constantFrom(...causes), { nil: undefined, freq: 1 }),
        fc.option(fc.constantFrom('pellan-125', 'pellan-vico-50'), { nil: undefined, freq: 1 }),
        fc.option(fc.constantFrom(...symptoms), { nil: undefined, freq: 1 }),
        fc.boolean(),
        async (one, other, by, causeId, modelId, symptomId, isComponent) => {
          const fromMs = Math.floor(first + (Math.min(one, other) / 1000) * length);
          const untilMs = Math.floor(first + (Math.max(one, other) / 1000) * length) + 1;
          const period = { from: new Date(fromMs).toISOString(), until: new Date(untilMs).toISOString() };
          const inside = facts.filter(
            (fact) => Number(fact.closed_ms) >= fromMs && Number(fact.closed_ms) < untilMs,
          );
          // The relay's causes as a component are several; by hand it has one that was ever proven here.
          const meant =
            isComponent && causeId === 'starter-relay-coil-open'
              ? { componentId: 'starter-relay' }
              : { causeId };
          const answer = (await call('patterns.recurring', {
            by,
            ...period,
            against: 'none',
            ...meant,
            modelId,
            symptomId,
          })) as unknown as { period: { visits: number }; groups: { key: string; concerns: number }[] };
          const wanted = new Map<string, number>();
          for (const fact of inside) {
            if (!fact.isProven || fact.wrong) continue;
            if (causeId !== undefined && !fact.causes.includes(causeId)) continue;
            if (modelId !== undefined && fact.model_id !== modelId) continue;
            if (symptomId !== undefined && fact.symptom_id !== symptomId) continue;
            const keys =
              by === 'cause'
                ? fact.causes.filter((cause) => causeId === undefined || cause === causeId)
                : by === 'supplier'
                  ? fact.parts.map((part) => part.supplier ?? '')
                  : by === 'part-kind'
                    ? fact.parts.map((part) => part.kind ?? '')
                    : [fact[`${by}_id`] ?? ''];
            for (const key of new Set(keys.map(String))) wanted.set(key, (wanted.get(key) ?? 0) + 1);
          }
          const got = new Map(answer.groups.map((group) => [group.key, group.concerns]));
          expect([...got].sort()).toEqual([...wanted].sort());
          counted += got.size;
          expect(answer.period.visits).toBe(
            inside.filter((fact) => fact.isFirst && (modelId === undefined || fact.model_id === modelId))
              .length,
          );
          const comebacks = (await call('patterns.comebacks', { by: 'cause', ...period })) as unknown as {
            repairs: number;
            groups: {
              ids: string[];
              repairs: number;
              didNotHold: number;
              wrongDiagnosis: number;
              inDoubt: number;
            }[];
          };
          const proven = inside.filter((fact) => fact.isProven);
          expect(comebacks.repairs).toBe(proven.length);
          for (const group of comebacks.groups) {
            const mine = proven.filter((fact) => fact.causes.includes(group.ids[0] ?? ''));
            expect(group).toMatchObject({
              repairs: mine.length,
              didNotHold: mine.filter((fact) => fact.held).length,
              wrongDiagnosis: mine.filter((fact) => fact.wrong).length,
              inDoubt: mine.filter((fact) => fact.doubt).length,
            });
          }
        },
      ),
      { numRuns: 80, seed: 20260930 },
    );
    expect(counted).toBeGreaterThan(100);
  }, 120_000);

  it('that were damaged are found and mended by the rebuild', async () => {
    const right = inFile();
    const raw = new Database(join(folder, 'shop.db'));
    raw.exec(
      'update month_causes set concerns = concerns + 1; delete from month_concerns; update day_parts set quantity = 99',
    );
    raw.close();
    const { changed } = (await call('shop.rebuildTally', {})) as unknown as { changed: number };
    expect(changed).toBeGreaterThan(3);
    expect(inFile()).toEqual(right);
  });
});
