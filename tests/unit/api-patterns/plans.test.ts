import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from '../api/open-shop.ts';

/** Every statement that is prepared while it watches, with the connection it was prepared on. */
const prepared: { text: string; on: Database.Database }[] = [];
const prepare = Database.prototype.prepare;
let shop: TestShop;

beforeAll(async () => {
  shop = await openShop();
  for (const plate of ['PLAN 1', 'PLAN 2', 'PLAN 1']) {
    const job = await shop.call('jobs.open', {
      vehicle: { plate },
      concerns: [{ words: 'click', symptomId: 'start-click' }],
    });
    await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: {
        kind: 'proven',
        causes: [{ causeId: 'starter-relay-contact-open' }],
        proof: 'measured',
        minutes: 20,
        parts: [{ description: 'Relay', kind: 'starter-relay', supplier: 'Millrace Trade', quantity: 1 }],
      },
    });
    shop.pass(50);
  }
  Database.prototype.prepare = function (this: Database.Database, text: string) {
    prepared.push({ text, on: this });
    return prepare.call(this, text);
  } as typeof prepare;
});
afterAll(async () => {
  Database.prototype.prepare = prepare;
  await shop.close();
});

/** Tables that grow with the jobs, by all the names under which the reports read them. */
const large =
  /^(SCAN|SEARCH) (concerns|jobs|vehicles|concern_causes|concern_parts|shown|readings|later|other|among|fitted|more|first|g)\b(.*)$/;

function plansOf(): string[] {
  const found = new Set<string>();
  for (const { text, on } of prepared.splice(0)) {
    if (!/^\s*select/i.test(text)) continue;
    const slots = text.match(/\?/g)?.length ?? 0;
    const plan = prepare
      .call(on, `explain query plan ${text}`)
      .all(Array.from({ length: slots }, () => 1)) as { detail: string }[];
    for (const { detail } of plan) if (large.test(detail)) found.add(detail);
  }
  return [...found];
}

// A small ledger has no statistics, as a shop's ledger has none: the plans are those of a large one.
describe('the plans of the reports', () => {
  it.each([
    ['patterns.overview', {}],
    ['patterns.recurring', { by: 'cause' }],
    ['patterns.recurring', { by: 'component', modelId: 'pellan-125' }],
    ['patterns.recurring', { by: 'mileage' }],
    ['patterns.recurring', { by: 'age', causeId: 'starter-relay-contact-open' }],
    ['patterns.recurring', { by: 'supplier', symptomId: 'start-click' }],
    ['patterns.trend', {}],
    ['patterns.trend', { componentId: 'starter-relay' }],
    ['patterns.comebacks', {}],
    ['patterns.comebacks', { partKind: 'starter-relay', supplier: 'Millrace Trade' }],
    ['patterns.stock', {}],
    ['patterns.accuracy', {}],
    ['patterns.quoted', {}],
  ])('never read a whole table: %s %j', async (name, input) => {
    prepared.length = 0;
    await shop.callRaw(name, input);
    const plans = plansOf();
    if (name !== 'patterns.stock') expect(plans.length).toBeGreaterThan(0);
    // The concerns of a few causes, which were looked up before.
    const scans = plans.filter((plan) => plan.startsWith('SCAN') && plan !== 'SCAN among');
    expect(scans).toEqual([]);
    // What hangs on one concern is looked up by its id, not among all that are closed or all of a kind.
    const wide = plans.filter((plan) =>
      /^SEARCH (later|other|fitted|g|shown) .*\((state=\?|kind=\?|comeback_state=\?)( AND closed_ms[<>]\?)*\)$/.test(
        plan,
      ),
    );
    expect(wide.filter((plan) => !plan.startsWith('SEARCH later'))).toEqual([]);
  });
});
