import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const proven = (causeId: string) => ({
  kind: 'proven' as const,
  causes: [{ causeId }],
  proof: 'retested' as const,
  retest: 'ten starts, cold and warm',
  minutes: 30,
});

async function openJob(plate: string, words = 'press start and nothing happens', symptomId = 'start-dead') {
  return shop.call('jobs.open', {
    vehicle: { plate, modelId: 'pellan-125', year: 2019 },
    customer: { name: 'Test Rider' },
    concerns: [{ words, symptomId }],
    mileage_km: 12_000,
  });
}

const shareOf = async (causeId: string): Promise<{ probability: number; all: number; of: number }> => {
  const ranking = await shop.call('causes.rank', { symptomId: 'start-dead', modelId: 'pellan-125' });
  const cause = ranking.causes.find((one) => one.causeId === causeId);
  return { probability: cause?.probability ?? 0, all: cause?.confirmed.all ?? 0, of: cause?.of.all ?? 0 };
};

describe('a reading with its conditions', () => {
  it('keeps them on the card, and means what it would at the conditions of its spec', async () => {
    const job = await openJob('JT 090', 'battery never charges', 'battery-not-charging');
    const after = await shop.call('jobs.record', {
      jobId: job.jobId,
      concernId: job.concerns[0]?.concernId ?? '',
      reading: { checkId: 'stator-ohms', value: 3.3, unit: 'ohm', conditions: { temperature_c: 60 } },
    });
    // Copper of 3.3 ohm at 60 °C has 2.85 ohm at 20 °C (0.393 %/K, IEC 60028): under the 3 ohm of an open winding.
    expect(after.concerns[0]?.readings[0]).toMatchObject({ shows: '3.3 ohm, at 60 °C', outcome: 'normal' });
  });
});

describe('from complaint to a closed job', () => {
  it('moves the count and the share for the next one, and reopening takes both back', async () => {
    const found = await shop.call('symptoms.find', {
      text: 'i press the start button and nothing happens, lights are fine',
    });
    expect(found.matches[0]?.symptomId).toBe('start-dead');

    const before = await shareOf('start-button-open');
    const job = await openJob('JT 100');
    expect(job.status).toBe('checked-in');
    const concern = job.concerns[0];
    expect(concern?.state).toBe('open');
    const concernId = concern?.concernId ?? '';

    const after = await shop.call('jobs.record', {
      jobId: job.jobId,
      concernId,
      reading: { checkId: 'brake-lamp-with-lever', outcome: 'lights' },
    });
    expect(after.status).toBe('diagnosing');
    expect(after.concerns[0]?.readings).toHaveLength(1);
    const bench = await shop.call('jobs.bench', { jobId: job.jobId, concernId });
    expect(bench.plan?.checks.map((check) => check.checkId)).not.toContain('brake-lamp-with-lever');

    const closed = await shop.call('jobs.close', { jobId: job.jobId, closing: proven('start-button-open') });
    expect(closed.status).toBe('ready');
    expect(closed.concerns[0]?.closing).toMatchObject({ kind: 'proven', proof: 'retested' });
    const moved = await shareOf('start-button-open');
    expect(moved.all).toBe(before.all + 1);
    expect(moved.of).toBe(before.of + 1);
    expect(moved.probability).toBeGreaterThan(before.probability);

    const reopened = await shop.call('jobs.reopen', { jobId: job.jobId, concernId });
    expect(reopened.concerns[0]?.closing).toBeNull();
    expect(await shareOf('start-button-open')).toEqual(before);
  });

  it('refuses to close twice', async () => {
    const job = await openJob('JT 101');
    await shop.call('jobs.close', { jobId: job.jobId, closing: proven('start-button-open') });
    const before = await shareOf('start-button-open');
    await expect(
      shop.call('jobs.close', { jobId: job.jobId, closing: proven('start-button-open') }),
    ).rejects.toMatchObject({ code: 'not-allowed-now' });
    expect(await shareOf('start-button-open')).toEqual(before);
  });

  it('keeps what was shown at opening, after each reading and at closing', async () => {
    const job = await openJob('JT 102');
    const concernId = job.concerns[0]?.concernId ?? '';
    await shop.call('jobs.record', {
      jobId: job.jobId,
      concernId,
      reading: { checkId: 'brake-lamp-with-lever', outcome: 'dark' },
    });
    await shop.call('jobs.close', { jobId: job.jobId, closing: proven('brake-switch-open') });
    const Database = (await import('better-sqlite3')).default;
    const raw = new Database(`${shop.folder}/shop.db`, { readonly: true });
    const rows = raw
      .prepare('select moment, book_version from shown where concern_id = ? order by seq')
      .all(concernId) as {
      moment: string;
      book_version: string;
    }[];
    raw.close();
    expect(rows.map((row) => row.moment)).toEqual(['opened', 'reading', 'closed']);
    expect(rows.every((row) => row.book_version.length > 0)).toBe(true);
  });

  it('counts a cause that the book lacks as not in the book, in its own words', async () => {
    const job = await openJob('JT 103');
    const closed = await shop.call('jobs.close', {
      jobId: job.jobId,
      closing: { kind: 'proven', causes: [{ words: 'mouse nest in the headset' }], proof: 'measured' },
    });
    expect(closed.concerns[0]?.causes).toEqual(['mouse nest in the headset']);
    expect((await shop.call('causes.rank', { symptomId: 'start-dead' })).unlisted).toBeGreaterThan(0);
  });

  it('counts not reproduced, normal and handling apart', async () => {
    const before = await shop.call('causes.rank', { symptomId: 'start-dead' });
    const job = await openJob('JT 104');
    await shop.call('jobs.close', { jobId: job.jobId, closing: { kind: 'not-reproduced' } });
    const after = await shop.call('causes.rank', { symptomId: 'start-dead' });
    expect(after.apart.notReproduced).toBe(before.apart.notReproduced + 1);
    expect(after.causes.map((cause) => cause.confirmed.all)).toEqual(
      before.causes.map((cause) => cause.confirmed.all),
    );
  });

  it('asks what was retested', async () => {
    const job = await openJob('JT 105');
    await expect(
      shop.call('jobs.close', {
        jobId: job.jobId,
        closing: { kind: 'proven', causes: [{ causeId: 'start-button-open' }], proof: 'retested' },
      }),
    ).rejects.toMatchObject({ code: 'bad-input', where: { field: 'closing.retest' } });
  });
});

describe('comebacks', () => {
  it('marks the return in doubt, and a different cause takes the first diagnosis back', async () => {
    const first = await openJob('CB 1');
    await shop.call('jobs.close', { jobId: first.jobId, closing: proven('starter-relay-coil-open') });
    const counted = await shareOf('starter-relay-coil-open');
    shop.pass(14);
    const second = await shop.call('jobs.open', {
      vehicleId: first.vehicle?.vehicleId ?? '',
      concerns: [{ words: 'same again', symptomId: 'start-dead' }],
      mileage_km: 12_300,
    });
    expect(second.concerns[0]?.comeback).toMatchObject({
      ofJobNumber: first.number,
      state: 'in-doubt',
      daysBetween: 14,
    });
    expect((await shareOf('starter-relay-coil-open')).all).toBe(counted.all);
    const closed = await shop.call('jobs.close', {
      jobId: second.jobId,
      closing: proven('start-button-open'),
    });
    expect(closed.concerns[0]?.comeback?.state).toBe('diagnosis-taken-back');
    expect((await shareOf('starter-relay-coil-open')).all).toBe(counted.all - 1);

    // The manager's word goes before it, and reopening reverses it.
    const concernId = second.concerns[0]?.concernId ?? '';
    await shop.call('jobs.classify', { jobId: second.jobId, concernId, as: 'unrelated' });
    expect((await shareOf('starter-relay-coil-open')).all).toBe(counted.all);
    await shop.call('jobs.classify', { jobId: second.jobId, concernId, as: null });
    expect((await shareOf('starter-relay-coil-open')).all).toBe(counted.all - 1);
    await shop.call('jobs.reopen', { jobId: second.jobId, concernId });
    expect((await shareOf('starter-relay-coil-open')).all).toBe(counted.all);
  });

  it('leaves the diagnosis standing when the same cause comes back', async () => {
    const first = await openJob('CB 2');
    await shop.call('jobs.close', { jobId: first.jobId, closing: proven('brake-switch-open') });
    shop.pass(5);
    const second = await shop.call('jobs.open', {
      vehicleId: first.vehicle?.vehicleId ?? '',
      concerns: [{ words: 'again', symptomId: 'start-dead' }],
    });
    const counted = await shareOf('brake-switch-open');
    const closed = await shop.call('jobs.close', {
      jobId: second.jobId,
      closing: proven('brake-switch-open'),
    });
    expect(closed.concerns[0]?.comeback?.state).toBe('diagnosis-stands');
    expect((await shareOf('brake-switch-open')).all).toBe(counted.all + 1);
  });

  it('does not mark a return outside of the window', async () => {
    const first = await openJob('CB 3');
    await shop.call('jobs.close', { jobId: first.jobId, closing: proven('brake-switch-open') });
    shop.pass(200);
    const second = await shop.call('jobs.open', {
      vehicleId: first.vehicle?.vehicleId ?? '',
      concerns: [{ words: 'again', symptomId: 'start-dead' }],
      mileage_km: 20_000,
    });
    expect(second.concerns[0]?.comeback).toBeNull();
  });
});

describe('ids and versions of the caller', () => {
  it('gives the same answer for the same id and content, and a conflict for another content', async () => {
    const jobId = uuidv7();
    const concernId = uuidv7();
    const input = {
      jobId,
      vehicle: { plate: 'ID 1', modelWords: 'some scooter' },
      concerns: [{ concernId, words: 'no start' }],
    };
    const once = await shop.call('jobs.open', input);
    const twice = await shop.call('jobs.open', input);
    expect(twice.number).toBe(once.number);
    await expect(shop.call('jobs.open', { ...input, keyTag: '7' })).rejects.toMatchObject({
      code: 'conflict',
    });
    const readingId = uuidv7();
    await shop.call('jobs.editConcern', { jobId, concernId, symptomId: 'start-dead' });
    const record = {
      jobId,
      concernId,
      readingId,
      reading: { checkId: 'brake-lamp-with-lever', outcome: 'dark' },
    };
    await shop.call('jobs.record', record);
    expect((await shop.call('jobs.record', record)).concerns[0]?.readings).toHaveLength(1);
  });

  it('refuses an update of an older version', async () => {
    const job = await openJob('ID 2');
    await shop.call('jobs.update', { jobId: job.jobId, ifVersion: job.version, set: { keyTag: '12' } });
    await expect(
      shop.call('jobs.update', { jobId: job.jobId, ifVersion: job.version, set: { keyTag: '13' } }),
    ).rejects.toMatchObject({ code: 'conflict' });
    expect((await shop.call('jobs.get', { jobId: job.jobId })).keyTag).toBe('12');
  });
});

describe('the card', () => {
  it('takes back a reading and a skipped check', async () => {
    const job = await openJob('CD 1');
    const concernId = job.concerns[0]?.concernId ?? '';
    const at = { jobId: job.jobId, concernId };
    await shop.call('jobs.record', {
      ...at,
      reading: { checkId: 'battery-rest-volts', value: '12,6', unit: 'V' },
    });
    await shop.call('jobs.skip', { ...at, checkId: 'output-stud-lamp', why: 'no tool' });
    const both = await shop.call('jobs.get', { jobId: job.jobId });
    expect(both.concerns[0]?.readings.map((reading) => reading.shows)).toEqual([
      '12.6 V',
      'left out: no tool',
    ]);
    const bench = await shop.call('jobs.bench', at);
    expect(bench.plan?.checks.map((check) => check.checkId)).not.toContain('output-stud-lamp');
    await shop.call('jobs.undo', at);
    const one = await shop.call('jobs.undo', at);
    expect(one.concerns[0]?.readings).toEqual([]);
    await expect(shop.call('jobs.undo', at)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('keeps several concerns apart, and is ready only when all are closed', async () => {
    const job = await shop.call('jobs.open', {
      vehicle: { plate: 'CD 2', modelId: 'pellan-125' },
      concerns: [
        { words: 'no start', symptomId: 'start-dead' },
        { words: 'battery flat every morning', symptomId: 'battery-overnight' },
      ],
    });
    await expect(
      shop.call('jobs.close', { jobId: job.jobId, closing: { kind: 'not-reproduced' } }),
    ).rejects.toMatchObject({ code: 'bad-input', where: { field: 'concernId' } });
    await expect(
      shop.call('jobs.update', { jobId: job.jobId, set: { status: 'collected' } }),
    ).rejects.toMatchObject({ code: 'not-allowed-now' });
    const one = await shop.call('jobs.close', {
      jobId: job.jobId,
      concernId: job.concerns[0]?.concernId,
      closing: { kind: 'not-reproduced' },
    });
    expect(one.status).not.toBe('ready');
    const two = await shop.call('jobs.close', { jobId: job.jobId, closing: { kind: 'not-reproduced' } });
    expect(two.status).toBe('ready');
  });

  it('shows history and open advisories at the next visit, and keeps advisories out of the tally', async () => {
    const job = await openJob('CD 3');
    const before = await shop.call('causes.rank', { symptomId: 'brake-weak' });
    await shop.call('jobs.advise', {
      jobId: job.jobId,
      words: 'front pads at the backing',
      urgency: 'now',
      doNotRide: true,
    });
    expect((await shop.call('jobs.get', { jobId: job.jobId })).doNotRide).toBe(true);
    await shop.call('jobs.close', { jobId: job.jobId, closing: { kind: 'not-reproduced' } });
    shop.pass(400);
    const next = await shop.call('jobs.open', {
      vehicleId: job.vehicle?.vehicleId ?? '',
      concerns: [{ words: 'service' }],
    });
    expect(next.visits).toHaveLength(1);
    expect(next.earlierAdvisories[0]).toMatchObject({ words: 'front pads at the backing', doNotRide: true });
    expect(next.doNotRide).toBe(true);
    expect(await shop.call('causes.rank', { symptomId: 'brake-weak' })).toEqual(before);
    const settled = await shop.call('jobs.settleAdvisory', {
      jobId: next.jobId,
      advisoryId: next.earlierAdvisories[0]?.advisoryId ?? '',
      state: 'settled',
    });
    expect(settled.doNotRide).toBe(false);
  });

  it('is found by plate in any spelling, by name and by number', async () => {
    const job = await openJob('XY-77 99');
    for (const text of ['xy7799', 'XY 77', String(job.number)]) {
      const list = await shop.call('jobs.list', { text });
      expect(list.jobs.map((one) => one.number)).toContain(job.number);
    }
    const vehicles = await shop.call('vehicles.find', { text: 'xy77 99' });
    expect(vehicles.vehicles[0]?.plate).toBe('XY-77 99');
  });
});
