import { readFileSync, rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newFolder, type RunningProgram, runCall, startProgram } from './running-program.ts';

/** The same procedures through the browser door and the shell door, on one data folder. */
let program: RunningProgram;
let cookie = '';
beforeAll(async () => {
  program = await startProgram();
  const answer = await fetch(program.address, { redirect: 'manual' });
  cookie = (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
});
afterAll(() => program.stop());

const post = (name: string, body: unknown, headers: Record<string, string> = {}): Promise<Response> =>
  fetch(`${program.origin}/api/${name}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: program.origin, cookie, ...headers },
    body: JSON.stringify(body),
  });

describe('the browser door', () => {
  it('serves the page under a strict policy, and procedures to its own window only', async () => {
    const page = await fetch(`${program.origin}/bench/7`, { headers: { cookie } });
    expect(page.status).toBe(200);
    expect(page.headers.get('content-security-policy')).toContain("script-src 'self'");
    expect(await page.text()).not.toMatch(/<script(?![^>]*\bsrc=)/);
    expect((await post('shop.status', {})).status).toBe(200);
    expect((await post('shop.status', {}, { cookie: '' })).status).toBe(401);
    expect((await post('shop.status', {}, { origin: 'http://elsewhere.example' })).status).toBe(403);
    expect((await fetch(`${program.origin}/../../package.json`, { headers: { cookie } })).status).not.toBe(
      500,
    );
    expect((await fetch(`${program.origin}/assets/nothing.js`, { headers: { cookie } })).status).toBe(404);
  });

  it('streams long work until it ends', async () => {
    const { workId } = (await (await post('shop.demo', { jobs: 150, seed: 3 })).json()) as { workId: string };
    const text = await (await post('work.watch', { workId })).text();
    const states = text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { state: string; progress: number });
    expect(states.at(-1)).toMatchObject({ state: 'done', progress: 1 });
    const status = (await (await post('shop.status', {})).json()) as { closedConcerns: number };
    expect(status.closedConcerns).toBeGreaterThan(100);
  });

  it('takes a long file piece by piece, for its own window only', async () => {
    const upload = (body: BodyInit, headers: Record<string, string> = {}): Promise<Response> =>
      fetch(`${program.origin}/api/uploads?name=list.csv`, {
        method: 'POST',
        headers: { 'content-type': 'application/octet-stream', origin: program.origin, cookie, ...headers },
        body,
      });
    const rows = Array.from(
      { length: 120_000 },
      (_, k) => `D-${k};${(k % 700) + 1},5${k % 10};Long row ${k}\n`,
    );
    const file = new Blob(['number;price;title\n', ...rows]);
    expect((await upload(file, { cookie: '' })).status).toBe(401);
    expect((await upload(file, { origin: 'http://elsewhere.example' })).status).toBe(403);
    expect((await upload(file, { 'content-type': 'text/plain' })).status).toBe(400);
    const answer = await upload(file);
    const { uploadId, bytes } = (await answer.json()) as { uploadId: string; bytes: number };
    expect(bytes).toBe(file.size);
    const input = { supplier: 'Door Supply', uploadId, dryRun: true };
    const { workId } = (await (await post('parts.importPrices', input)).json()) as { workId: string };
    const text = await (await post('work.watch', { workId })).text();
    expect(JSON.parse(text.trim().split('\n').at(-1) as string)).toMatchObject({
      state: 'done',
      result: { counts: { rows: 120_000, new: 120_000, rejected: 0 } },
    });
  });

  it('sends a second start to the program that is open', async () => {
    await expect(startProgram(program.folder)).rejects.toThrow(/open already: http/);
  });
});

describe('the shell door', () => {
  it('works beside the running program', async () => {
    const { code, out } = await runCall([
      'symptoms.find',
      '{"text":"just one click when i press start"}',
      '--data',
      program.folder,
    ]);
    expect(code).toBe(0);
    expect(JSON.parse(out).matches[0].symptomId).toBe('start-click');
  });

  it('answers one line for each line, in order, and goes on after a bad one', async () => {
    const lines = [
      '{"text":"one click only"}',
      '{"txt":"oops"}',
      'not json',
      '{"text":"battery flat every morning"}',
    ];
    const { code, out } = await runCall(
      ['symptoms.find', '-', '--data', program.folder],
      `${lines.join('\n')}\n`,
    );
    const answers = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(answers).toHaveLength(4);
    expect(answers[0].matches[0].symptomId).toBe('start-click');
    expect(answers[1].error).toMatchObject({ code: 'bad-input' });
    expect(answers[2].error).toMatchObject({ code: 'bad-input', where: { line: 3 } });
    expect(answers[3].matches[0].symptomId).toBe('battery-overnight');
    expect(code).toBe(2);
  });

  it('says on standard error what is wrong, in one line of JSON, and ends with 2', async () => {
    const { code, out, errors } = await runCall([
      'causes.rank',
      '{"symptomId":"nope"}',
      '--data',
      program.folder,
    ]);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(JSON.parse(errors)).toMatchObject({ code: 'not-found', where: { field: 'symptomId' } });
  });

  it('will not restore under a program that is open', async () => {
    const made = JSON.parse((await runCall(['shop.backup', '{}', '--data', program.folder])).out) as {
      file: string;
    };
    const { code, errors } = await runCall([
      'shop.restore',
      JSON.stringify({ path: made.file, preview: false }),
      '--data',
      program.folder,
    ]);
    expect(code).toBe(1);
    expect(JSON.parse(errors)).toMatchObject({ code: 'database-busy' });
    expect((await post('shop.status', {})).status).toBe(200);
  });

  it('makes backups and restores on its own', async () => {
    const folder = newFolder();
    const open = { vehicle: { plate: 'SH 1', modelWords: 'x' }, concerns: [{ words: 'no start' }] };
    expect((await runCall(['jobs.open', JSON.stringify(open), '--data', folder])).code).toBe(0);
    const made = JSON.parse((await runCall(['shop.backup', '{}', '--data', folder])).out) as { file: string };
    expect(readFileSync(made.file).subarray(0, 15).toString()).toBe('SQLite format 3');
    await runCall(['jobs.open', JSON.stringify(open), '--data', folder]);
    const restored = await runCall([
      'shop.restore',
      JSON.stringify({ path: made.file, preview: false }),
      '--data',
      folder,
    ]);
    expect(restored.code).toBe(0);
    expect(JSON.parse((await runCall(['shop.status', '{}', '--data', folder])).out).jobs).toBe(1);
    rmSync(folder, { recursive: true, force: true });
  });
});
