import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const refusal = async (
  name: string,
  input: unknown,
): Promise<{ code: string; message: string; field: string | undefined }> => {
  try {
    await shop.callRaw(name, input);
  } catch (error) {
    const { code, message, where } = error as { code: string; message: string; where?: { field?: string } };
    return { code, message, field: where?.field };
  }
  throw new Error(`${name} accepted ${JSON.stringify(input)}`);
};

describe('bad input names the field and changes nothing', () => {
  it.each([
    ['symptoms.fnd', {}, 'unknown-procedure', 'procedure'],
    ['symptoms.find', {}, 'bad-input', 'text'],
    ['symptoms.find', { text: 7 }, 'bad-input', 'text'],
    ['symptoms.find', { text: 'x', limit: 0 }, 'bad-input', 'limit'],
    ['symptoms.find', { text: 'a'.repeat(10_001) }, 'bad-input', 'text'],
    ['causes.rank', { symptomId: 'no-such-symptom' }, 'not-found', 'symptomId'],
    ['causes.rank', { symptomId: 'start-dead', modelId: 'no-such-model' }, 'not-found', 'modelId'],
    [
      'causes.rank',
      { symptomId: 'start-dead', readings: [{ checkId: 'nope', outcome: 'x' }] },
      'bad-input',
      'readings[0].checkId',
    ],
    [
      'causes.rank',
      { symptomId: 'start-dead', readings: [{ checkId: 'brake-lamp-with-lever', outcome: 'purple' }] },
      'bad-input',
      'readings[0].outcome',
    ],
    [
      'causes.rank',
      { symptomId: 'start-dead', readings: [{ checkId: 'battery-rest-volts', value: -400 }] },
      'bad-input',
      'readings[0].value',
    ],
    [
      'causes.rank',
      { symptomId: 'start-dead', readings: [{ checkId: 'battery-rest-volts', value: 'lots' }] },
      'bad-input',
      'readings[0].value',
    ],
    ['jobs.open', { concerns: [] }, 'bad-input', 'concerns'],
    ['jobs.open', { concerns: [{ words: '   ' }] }, 'bad-input', 'concerns[0].words'],
    ['jobs.open', { concerns: [{ words: 'x', symptomId: 'nope' }] }, 'not-found', 'concerns[0].symptomId'],
    ['jobs.open', { concerns: [{ words: 'x' }], vehicle: {} }, 'bad-input', 'vehicle'],
    [
      'jobs.open',
      { concerns: [{ words: 'x' }], vehicle: { plate: 'A 1', year: 1066 } },
      'bad-input',
      'vehicle.year',
    ],
    ['jobs.open', { concerns: [{ words: 'x' }], mileage_km: -5 }, 'bad-input', 'mileage_km'],
    ['jobs.open', { concerns: [{ words: 'x' }], promiseAt: 'tomorrow' }, 'bad-input', 'promiseAt'],
    ['jobs.get', { number: 424_242 }, 'not-found', 'number'],
    ['jobs.get', {}, 'bad-input', 'jobId'],
    ['shop.settings', { set: { currency: 'dollars' } }, 'bad-input', 'set.currency'],
    ['shop.settings', { set: { laborRate: '-3' } }, 'bad-input', 'set.laborRate'],
    ['shop.restore', { path: '/no/such/file.db', preview: true }, 'bad-file', 'path'],
  ])('%s %j', async (name, input, code, field) => {
    const before = await shop.call('shop.status', {});
    const refused = await refusal(name, input);
    expect({ code: refused.code, field: refused.field }).toEqual({ code, field });
    expect(refused.message.length).toBeGreaterThan(10);
    expect(await shop.call('shop.status', {})).toEqual(before);
  });

  it('a refused card leaves neither vehicle nor customer behind', async () => {
    const before = await shop.call('shop.status', {});
    await refusal('jobs.open', {
      vehicle: { plate: 'HALF 1', modelId: 'pellan-125' },
      customer: { name: 'Nobody' },
      concerns: [{ words: 'ok', symptomId: 'start-dead' }],
      readings: [{ checkId: 'brake-lamp-with-lever', outcome: 'purple' }],
    });
    expect(await shop.call('shop.status', {})).toEqual(before);
    expect((await shop.call('vehicles.find', { text: 'HALF 1' })).vehicles).toEqual([]);
  });

  it('takes emoji, other scripts and ten thousand characters of complaint', async () => {
    for (const text of ['', '🛵💥', 'не заводится', '????', 'a '.repeat(5000)]) {
      const found = await shop.call('symptoms.find', { text });
      expect(Array.isArray(found.matches)).toBe(true);
    }
  });
});

describe('the handler over HTTP', () => {
  const post = (path: string, body: string, type = 'application/json'): Promise<Response> =>
    shop.request(
      new Request(`http://127.0.0.1/api/${path}`, {
        method: 'POST',
        body,
        headers: { 'content-type': type },
      }),
    );

  it('takes JSON only, and says what is wrong with it', async () => {
    expect((await post('shop.status', '{}', 'text/plain')).status).toBe(400);
    const broken = await post('shop.status', '{');
    expect(broken.status).toBe(400);
    expect(await broken.json()).toMatchObject({ code: 'bad-input' });
    expect((await post('shop.status', '{}')).status).toBe(200);
    expect((await post('shop.nothing', '{}')).status).toBe(404);
  });

  it('never shows the inside of the program to a stranger', async () => {
    const answer = await post('jobs.get', '{"number": 999999}');
    expect(answer.status).toBe(404);
    expect(JSON.stringify(await answer.json())).not.toMatch(/at .*\.ts|node_modules|SQLITE/);
  });
});
