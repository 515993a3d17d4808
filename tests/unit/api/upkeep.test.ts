import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openShop, seedFolder, type TestShop } from './open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop.close());

const id = 'starter-relay-coil-open';
const read = () => shop.call('handbook.read', { kind: 'cause', id });

describe('editing the handbook', () => {
  it('changes an entry, keeps who did it, and takes it back', async () => {
    const before = await read();
    const yaml = before.yaml.replace(/minutes: \d+/, 'minutes: 33');
    expect(yaml).not.toBe(before.yaml);
    const edited = await shop.call('handbook.edit', {
      kind: 'cause',
      id,
      yaml,
      ifYaml: before.yaml,
      who: 'Runa',
    });
    expect(edited.entry?.edited).toBe(true);
    const ranking = await shop.call('causes.rank', { symptomId: 'start-dead', modelId: 'pellan-125' });
    expect(ranking.causes.find((cause) => cause.causeId === id)?.minutes).toBe(33);
    const { changes } = await shop.call('handbook.history', { kind: 'cause', id });
    expect(changes[0]).toMatchObject({ who: 'Runa', seq: edited.seq, canUndo: true });
    await shop.call('handbook.undo', { seq: edited.seq, who: 'Runa' });
    expect(await read()).toEqual(before);
    await expect(shop.call('handbook.undo', { seq: edited.seq, who: 'Runa' })).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('refuses what does not fit, naming line and field, and changes nothing', async () => {
    const before = await read();
    const bad = before.yaml.replace('fault_mode:', 'falt_mode:');
    await expect(
      shop.call('handbook.edit', { kind: 'cause', id, yaml: bad, who: 'Runa' }),
    ).rejects.toMatchObject({
      code: 'bad-handbook',
      where: { field: expect.stringContaining('falt_mode') },
    });
    await expect(
      shop.call('handbook.edit', {
        kind: 'cause',
        id,
        yaml: before.yaml.replace(/component: .*/, 'component: no-such-part'),
        who: 'R',
      }),
    ).rejects.toMatchObject({ code: 'bad-handbook' });
    // Other entries name it, so it cannot go.
    await expect(
      shop.call('handbook.edit', { kind: 'cause', id, yaml: null, who: 'R' }),
    ).rejects.toMatchObject({
      code: 'bad-handbook',
    });
    await expect(
      shop.call('handbook.edit', {
        kind: 'cause',
        id,
        yaml: before.yaml,
        ifYaml: 'something older',
        who: 'R',
      }),
    ).rejects.toMatchObject({ code: 'conflict' });
    expect(await read()).toEqual(before);
  });

  it('adds a new entry and removes it again', async () => {
    const yaml =
      'id: shop-caution\nsignal: NOTICE\nhazard: The lift pads mark soft plastic.\navoid: Put a cloth between.\n';
    const added = await shop.call('handbook.edit', { kind: 'caution', yaml, who: 'Lene' });
    expect(added.entry?.id).toBe('shop-caution');
    const compared = await shop.call('handbook.compare', {});
    expect(compared.entries).toContainEqual(expect.objectContaining({ id: 'shop-caution', state: 'added' }));
    await shop.call('handbook.edit', { kind: 'caution', id: 'shop-caution', yaml: null, who: 'Lene' });
    expect((await shop.call('handbook.compare', {})).entries).toEqual([]);
  });

  it('goes out as files and comes back without a difference', async () => {
    const { files } = await shop.call('handbook.export', {});
    const back = await shop.call('handbook.import', { files, dryRun: true, replaceAll: true, who: 'Lene' });
    expect(back).toMatchObject({ ok: true, added: 0, changed: 0, removed: 0 });
    const original = readFileSync(join(seedFolder, 'systems/starting/causes.yaml'), 'utf8');
    expect(files.find((file) => file.path === 'systems/starting/causes.yaml')?.text).toBe(original);
  });

  it('imports all or nothing', async () => {
    const before = await shop.call('shop.status', {});
    const files = [
      {
        path: 'cautions-new.yaml',
        text: '- id: ok-one\n  signal: NOTICE\n  hazard: h\n  avoid: a\n- id: bad-one\n  signal: LOUD\n',
      },
    ];
    const refused = await shop.call('handbook.import', { files, dryRun: false, who: 'Lene' });
    expect(refused.ok).toBe(false);
    expect(refused.findings[0]).toMatchObject({ file: 'cautions-new.yaml', severity: 'error' });
    expect(await shop.call('shop.status', {})).toEqual(before);
  });

  it('learns words for a symptom, and takes them back', async () => {
    const text = 'the zorple does a wibble in the morning';
    const { phraseId } = await shop.call('symptoms.learn', { text, symptomId: 'front-knock' });
    expect((await shop.call('symptoms.find', { text })).matches[0]?.symptomId).toBe('front-knock');
    expect((await shop.call('handbook.learned', {})).words).toHaveLength(1);
    await shop.call('handbook.unlearn', { phraseId });
    expect((await shop.call('handbook.learned', {})).words).toEqual([]);
    expect((await shop.call('symptoms.find', { text })).matches[0]?.symptomId).not.toBe('front-knock');
  });
});

describe('a new shipped handbook', () => {
  it('is taken without losing the edits of the shop; where both changed the same, the shop stands and it is listed', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bench-tally-shipped-'));
    const shipped = join(folder, 'handbook');
    cpSync(seedFolder, shipped, { recursive: true });
    const data = mkdtempSync(join(tmpdir(), 'bench-tally-test-'));
    const first = await openShop(data, shipped);
    const cause = await first.call('handbook.read', { kind: 'cause', id });
    const mine = cause.yaml
      .replace(/minutes: \d+/, 'minutes: 33')
      .replace(/title: Starter relay coil open/, 'title: Relay coil gone');
    await first.call('handbook.edit', { kind: 'cause', id, yaml: mine, who: 'Runa' });
    await first.closeKeeping();

    const file = join(shipped, 'systems/starting/causes.yaml');
    const files = ['systems/starting/causes.yaml', 'systems/starting/causes-2.yaml'].map((name) =>
      join(shipped, name),
    );
    const where = files.find((name) => readFileSync(name, 'utf8').includes(`id: ${id}\n`)) ?? file;
    const text = readFileSync(where, 'utf8');
    const [head = '', rest = ''] = text.split(`- id: ${id}\n`);
    writeFileSync(
      where,
      `${head}- id: ${id}\n${rest.replace('title: Starter relay coil open', 'title: Coil of the starter relay open').replace(/shows: .*/, 'shows: No click at all.')}`,
    );
    appendFileSync(
      join(shipped, 'cautions.yaml'),
      '- {id: new-caution, signal: NOTICE, hazard: h, avoid: a}\n',
    );

    const second = await openShop(data, shipped);
    const merged = await second.call('handbook.read', { kind: 'cause', id });
    expect(merged.yaml).toContain('minutes: 33');
    expect(merged.yaml).toContain('Relay coil gone');
    expect(merged.yaml).toContain('No click at all.');
    expect((await second.call('handbook.read', { kind: 'caution', id: 'new-caution' })).edited).toBe(false);
    const { conflicts } = await second.call('handbook.compare', {});
    expect(conflicts).toContainEqual(
      expect.objectContaining({
        id,
        field: 'title',
        yours: 'Relay coil gone',
        shipped: 'Coil of the starter relay open',
      }),
    );
    await second.call('handbook.settle', { kind: 'cause', id, take: 'shipped', who: 'Runa' });
    expect((await second.call('handbook.read', { kind: 'cause', id })).yaml).toContain(
      'Coil of the starter relay open',
    );
    expect((await second.call('handbook.compare', {})).conflicts).toEqual([]);
    await second.close();
    rmSync(folder, { recursive: true, force: true });
  });
});
