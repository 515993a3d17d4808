import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import { afterEach, describe, expect, it } from 'vitest';
import type { InputOf, OutputOf, ProcedureName } from '../../../src/api/contract.ts';
import { type Handler, type LearnApart, openHandler } from '../../../src/api/index.ts';
import { learnApartIn } from '../../../src/main/learn-apart.ts';
import { learnedFolder, seedFolder } from './open-shop.ts';

const inWorker = learnApartIn(new URL('../../../src/main/learn-worker.ts', import.meta.url));

/** Learning in a worker, each training held back until the test lets it begin. */
class HeldBack {
  readonly names: string[] = [];
  readonly endings: string[] = [];
  #open: (() => void)[] = [];
  isHeld = false;

  readonly learn: LearnApart = async (job, signal) => {
    this.names.push(job.name);
    if (this.isHeld) await new Promise<void>((resolve) => this.#open.push(resolve));
    try {
      const trained = await inWorker(job, signal);
      this.endings.push('trained');
      return trained;
    } catch (error) {
      this.endings.push(signal.aborted ? 'ended' : 'failed');
      throw error;
    }
  };

  letGo(): void {
    this.isHeld = false;
    for (const open of this.#open) open();
    this.#open = [];
  }
}

const open: { handler: Handler; folder: string }[] = [];
afterEach(async () => {
  for (const { handler, folder } of open.splice(0)) {
    await handler.close();
    rmSync(folder, { recursive: true, force: true });
  }
});

async function openShop(held: HeldBack) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-tally-words-'));
  const handler = await openHandler({
    dataFolder: folder,
    door: 'call',
    seedFolder,
    learnedFolder,
    learnApart: held.learn,
    programVersion: 'test',
    clock: () => ({ ms: Date.now(), offset: 0 }),
    newId: uuidv7,
  });
  open.push({ handler, folder });
  const call = <N extends ProcedureName>(name: N, input: InputOf<N>): Promise<OutputOf<N>> =>
    handler.call(name, input) as Promise<OutputOf<N>>;
  const find = async (text: string) => (await call('symptoms.find', { text })).matches;
  const addPhrase = async (phrase: string): Promise<void> => {
    const { body } = await call('handbook.read', phrases);
    const now = [...(body.phrases as string[]), phrase];
    await call('handbook.edit', { ...phrases, yaml: `horn-dead: ${JSON.stringify(now)}`, who: 'Runa' });
  };
  return { folder, call, find, addPhrase, close: () => handler.close() };
}

const phrases = { kind: 'phrases', id: 'extra-1/horn-dead' };
const cacheOf = (folder: string): string[] =>
  existsSync(join(folder, 'cache')) ? readdirSync(join(folder, 'cache')) : [];
const until = async (isTrue: () => boolean): Promise<void> => {
  while (!isTrue()) await new Promise((wait) => setTimeout(wait, 20));
};

// Words of no language, so that only what was added here can know them.
const odd = 'quorbled snazzifrump zibbet';

describe('phrases that a shop changes', () => {
  it('are found at once, beside the numbers before; the new numbers answer when they are there', async () => {
    const held = new HeldBack();
    const shop = await openShop(held);
    const story = 'when I turn the key off the engine simply keeps running';
    const before = await shop.find(story);
    expect(before[0]?.symptomId).toBe('will-not-stop');
    expect((await shop.find(odd))[0]?.symptomId).not.toBe('horn-dead');

    held.isHeld = true;
    await shop.addPhrase(odd);
    // The training cannot end before `letGo`: an answer here is one that did not wait for it.
    expect((await shop.find(odd))[0]).toMatchObject({ symptomId: 'horn-dead', score: expect.closeTo(1, 1) });
    expect((await shop.find(`${odd} today`))[0]?.symptomId).toBe('horn-dead');
    expect(await shop.find(story)).toEqual(before);
    expect(held.names).toHaveLength(2);

    // More changes: each ends the training before, and the last one's words are learned.
    await shop.addPhrase('wobbled frumple nizzet');
    await shop.find(story);
    await shop.addPhrase('crindle maffet yop');
    expect((await shop.find('crindle maffet yop'))[0]?.symptomId).toBe('horn-dead');
    expect((await shop.find(odd))[0]?.symptomId).toBe('horn-dead');
    const [last] = held.names.slice(-1);
    held.letGo();
    await until(() => held.endings.includes('trained') && cacheOf(shop.folder).length > 0);
    expect(held.endings.filter((end) => end === 'trained')).toHaveLength(2);
    expect(cacheOf(shop.folder)).toEqual([`${last}.f32`]);
    const after = await shop.find(story);
    expect(after[0]?.symptomId).toBe('will-not-stop');
    // Trained on other texts, so the shares moved.
    expect(after).not.toEqual(before);
    expect((await shop.find(odd)).length).toBeGreaterThan(0);
  });

  it('may be in training when the program closes: nothing is kept of it, and nothing hangs', async () => {
    const held = new HeldBack();
    const shop = await openShop(held);
    await shop.find('horn');
    const kept = cacheOf(shop.folder);
    await shop.addPhrase(odd);
    await shop.find('horn');
    expect(held.names).toHaveLength(2);
    await shop.close();
    await until(() => held.endings.length === 2);
    expect(held.endings[1]).toBe('ended');
    expect(cacheOf(shop.folder)).toEqual(kept);
  });
});
