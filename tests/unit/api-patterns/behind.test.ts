import { parse } from 'csv-parse/sync';
import readXlsxFile from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type InputOf, recurringBy } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';
import { loadDemo } from './load-demo.ts';

/** What stands behind the numbers of the reports, on paper and in files. The answers are checked against each other. */
let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
  await loadDemo(shop, 1200, 7);
});
afterAll(() => shop.close());

const everything = { days: 36_600 } as const;

describe('the jobs behind a number', () => {
  it.each(recurringBy)('are as many as the report counted, by %s', async (by) => {
    const report = await shop.call('patterns.recurring', { by, ...everything, against: 'none', limit: 500 });
    expect(report.groups.length).toBeGreaterThan(1);
    for (const group of report.groups.slice(0, 12)) {
      const jobs = await shop.call('patterns.jobs', { by, key: group.key, ...everything, limit: 500 });
      expect([by, group.title, jobs.all]).toEqual([by, group.title, group.concerns]);
      expect(jobs.jobs.length).toBe(Math.min(500, jobs.all));
    }
  });

  it('are those that came back, as the comebacks count them', async () => {
    const comebacks = await shop.call('patterns.comebacks', everything);
    const count = async (back: InputOf<'patterns.jobs'>['back']): Promise<number> =>
      (await shop.call('patterns.jobs', { ...everything, back: back as 'in-doubt' })).all;
    expect(await count('diagnosis-stands')).toBe(comebacks.didNotHold);
    expect(await count('diagnosis-taken-back')).toBe(comebacks.wrongDiagnosis);
    expect(await count('in-doubt')).toBe(comebacks.inDoubt);
    const taken = await shop.call('patterns.takenBack', everything);
    expect(taken.all).toBe(comebacks.wrongDiagnosis);
    for (const row of taken.rows) {
      expect(row.laterJobNumber).toBeGreaterThan(row.jobNumber);
      expect(row.causes.length).toBeGreaterThan(0);
    }
  });

  it('of a period in the future are none, with a sentence', async () => {
    const jobs = await shop.call('patterns.jobs', {
      from: '2090-01-01T00:00:00Z',
      until: '2091-01-01T00:00:00Z',
    });
    expect(jobs).toMatchObject({ all: 0, jobs: [], remark: expect.stringMatching(/future/) });
  });

  it('of a group that does not exist are refused by field', async () => {
    const refused = { code: 'bad-input', where: { field: 'key' } };
    await expect(shop.call('patterns.jobs', { by: 'age', key: 'NaN' })).rejects.toMatchObject(refused);
    await expect(shop.call('patterns.jobs', { by: 'mileage', key: '-1' })).rejects.toMatchObject(refused);
    await expect(shop.call('patterns.jobs', { key: 'x' })).rejects.toMatchObject(refused);
  });

  it('of a model that left the book are none, and it is named', async () => {
    const jobs = await shop.call('patterns.jobs', { modelId: 'no-such-model' });
    expect(jobs.all).toBe(0);
    expect(jobs.title).toContain('no-such-model');
  });
});

describe('suggestions for the book', () => {
  it('are carried out by their edits, and taken back by as many undos', async () => {
    const { advice } = await shop.call('patterns.advice', everything);
    const added = advice.find((one) => one.kind === 'cause' && one.edits.length > 1);
    expect(added).toBeDefined();
    const before = (await shop.call('handbook.export', {})).files;
    const seqs: number[] = [];
    for (const edit of added?.edits ?? [])
      seqs.push((await shop.call('handbook.edit', { ...edit, who: 'Runa', why: 'the closed jobs' })).seq);
    const symptom = await shop.call('handbook.read', { kind: 'symptom', id: added?.symptomId ?? '' });
    const priors = symptom.body.priors as { cause: string; of_100: number }[];
    expect(priors.find((prior) => prior.cause === added?.causeId)?.of_100).toBe(added?.becomes);
    const all = priors.reduce((sum, prior) => sum + prior.of_100, Number(symptom.body.unlisted_of_100));
    expect(all).toBeCloseTo(100, 9);
    const after = await shop.call('patterns.advice', everything);
    expect(after.advice.map((one) => one.adviceId)).not.toContain(added?.adviceId);
    for (const seq of seqs.reverse()) await shop.call('handbook.undo', { seq, who: 'Runa' });
    expect((await shop.call('handbook.export', {})).files).toEqual(before);
  });

  it('change a share only while the entry is as it was read', async () => {
    const { advice } = await shop.call('patterns.advice', everything);
    const edit = advice.flatMap((one) => one.edits).find((one) => one.ifYaml !== undefined);
    expect(edit).toBeDefined();
    if (!edit) return;
    await expect(
      shop.call('handbook.edit', { ...edit, ifYaml: `${edit.ifYaml}\n`, who: 'Runa' }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });
});

describe('files', () => {
  const inputs: Partial<Record<InputOf<'patterns.table'>['of'], unknown>> = { recurring: { by: 'cause' } };
  const kinds = [
    'recurring',
    'months',
    'comebacks',
    'holding',
    'shelf',
    'calibration',
    'minutes',
    'lacking',
    'jobs',
    'taken-back',
  ] as const;
  it.each(kinds)('of %s hold as many rows as they say, without a number that is none', async (of) => {
    const ask = (format: string) =>
      shop.callRaw('patterns.table', { of, format, input: inputs[of] ?? {} }) as Promise<{
        fileName: string;
        base64: string;
        rows: number;
      }>;
    const csv = await ask('csv');
    const text = Buffer.from(csv.base64, 'base64').toString('utf8');
    const rows = parse(text, { bom: true }) as string[][];
    expect(rows.length).toBe(csv.rows + 1);
    expect(text).not.toMatch(/NaN|Infinity|undefined/);
    expect(csv.fileName).toMatch(new RegExp(`^${of}-\\d{4}-\\d{2}-\\d{2}\\.csv$`));
    const xlsx = await ask('xlsx');
    const sheets = (await readXlsxFile(Buffer.from(xlsx.base64, 'base64'))) as unknown as {
      data: unknown[][];
    }[];
    expect(sheets[0]?.data.length).toBe(csv.rows + 1);
  });

  it('of recurring faults hold the counts of the report', async () => {
    const report = await shop.call('patterns.recurring', { by: 'model', ...everything });
    const { base64 } = await shop.call('patterns.table', {
      of: 'recurring',
      format: 'csv',
      input: { by: 'model', ...everything },
    });
    const rows = parse(Buffer.from(base64, 'base64'), { bom: true, columns: true }) as Record<
      string,
      string
    >[];
    expect(rows.map((row) => [row.Key, Number(row.Concerns)])).toEqual(
      report.groups.map((group) => [group.key, group.concerns]),
    );
  });
});

describe('the month on paper', () => {
  const paper = async (input: InputOf<'patterns.monthPaper'>): Promise<string> =>
    Buffer.from((await shop.call('patterns.monthPaper', input)).base64, 'base64').toString('latin1');

  it('is a PDF of the last whole month unless another is named', async () => {
    const made = await shop.call('patterns.monthPaper', {});
    // The clock of the test stands at the beginning of March 2026.
    expect(made.fileName).toBe('month-2026-02.pdf');
    const file = Buffer.from(made.base64, 'base64').toString('latin1');
    expect(file.slice(0, 5)).toBe('%PDF-');
    expect(file.trimEnd().endsWith('%%EOF')).toBe(true);
    expect(made.bytes).toBeGreaterThan(5000);
  });
  it('takes A4 (ISO 216) or Letter', async () => {
    expect(await paper({ month: '2026-01', paper: 'A4' })).toContain('/MediaBox [0 0 595.28 841.89]');
    expect(await paper({ month: '2026-01', paper: 'Letter' })).toContain('/MediaBox [0 0 612 792]');
  });
  it('is set for this month, for one before the first job, and refused for one to come', async () => {
    expect(await paper({ month: '2026-03' })).toContain('%PDF-');
    expect(await paper({ month: '1999-12' })).toContain('%PDF-');
    await expect(shop.call('patterns.monthPaper', { month: '2026-04' })).rejects.toMatchObject({
      code: 'bad-input',
      where: { field: 'month' },
    });
    for (const month of ['2026-13', '2026-00', 'NaN', '2026-1'])
      await expect(shop.callRaw('patterns.monthPaper', { month })).rejects.toMatchObject({
        code: 'bad-input',
      });
  });
});

describe('the day', () => {
  it('has advisories that are due, safety first', async () => {
    const { advisories, advisoryCounts } = await shop.call('patterns.day', {});
    const order = advisories.map((one) => (one.doNotRide ? -1 : { now: 0, soon: 1, watch: 2 }[one.urgency]));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(advisoryCounts.now + advisoryCounts.soon + advisoryCounts.watch).toBe(advisories.length);
  });
  it('knows what the open jobs will likely need', async () => {
    const { rows, concerns } = await shop.call('patterns.soon', {});
    expect(concerns).toBeGreaterThan(0);
    for (const row of rows) {
      expect(row.expected).toBeGreaterThan(0);
      expect(row.jobs.every((job) => job.chance > 0 && job.chance <= 1)).toBe(true);
    }
  });
});
