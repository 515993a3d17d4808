import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Migration, migrations } from '../../../migrations/index.ts';
import { databaseFile, migrate, openStore, schemaVersion } from '../../../src/store/index.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bench-tally-store-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const now = Date.parse('2026-03-02T09:00:00Z');
const open = () => openStore(folder, 'call', now);

describe('opening the shop data', () => {
  it('writes ahead, waits for the disk at every commit, and keeps references', async () => {
    const store = await open();
    const pragma = (name: string): unknown => store.connection.raw.pragma(name, { simple: true });
    expect(pragma('journal_mode')).toBe('wal');
    // 2 is FULL.
    expect(pragma('synchronous')).toBe(2);
    expect(pragma('foreign_keys')).toBe(1);
    await store.close();
    const again = await open();
    expect(again.connection.raw.pragma('synchronous', { simple: true })).toBe(2);
    await again.close();
  });

  it('makes the tables that the committed snapshot shows', async () => {
    const store = await open();
    const rows = store.connection.raw
      .prepare(
        "select sql from sqlite_schema where sql is not null and name not like 'sqlite_%' order by type desc, name",
      )
      .all() as { sql: string }[];
    const schema = rows.map((row) => `${row.sql};`).join('\n');
    await expect(`${schema}\n`).toMatchFileSnapshot('../../../migrations/schema.sql');
    await store.close();
  });

  it('keeps types strictly: a text is no number, and a boolean is 0 or 1', async () => {
    const store = await open();
    const insert =
      (jobs: unknown): (() => unknown) =>
      () =>
        store.connection.raw
          .prepare(
            "insert into tally (symptom_id, cause_id, model_id, family_id, concerns, weight) values ('a','b','','',?,1)",
          )
          .run(jobs);
    expect(insert('many')).toThrow(/cannot store TEXT/i);
    expect(insert(1)).not.toThrow();
    expect(() =>
      store.connection.raw
        .prepare(
          "insert into concerns (id, version, job_id, seq, words, state, counted) values ('x',1,'none',1,'w','open',0)",
        )
        .run(),
    ).toThrow(/FOREIGN KEY/);
    expect(() =>
      store.connection.raw
        .prepare(
          "insert into jobs (id, number, version, status, opened_ms, opened_offset, test_ride, old_parts, folded) values ('j',1,1,'booked',1,0,7,0,'')",
        )
        .run(),
    ).toThrow(/CHECK/);
    await store.close();
  });

  it('numbers its migrations one after the other', () => {
    expect(migrations.map((migration) => migration.version)).toEqual(migrations.map((_, place) => place + 1));
  });

  it('refuses a database of a newer version and leaves it alone', async () => {
    const store = await open();
    store.connection.raw.prepare("insert into schema_version values (9999, 'from tomorrow', 1)").run();
    await store.close();
    const before = readFileSync(databaseFile(folder));
    await expect(open()).rejects.toMatchObject({ code: 'newer-database' });
    expect(readFileSync(databaseFile(folder)).equals(before)).toBe(true);
  });

  it('makes a backup before it upgrades an older database, and a failed step leaves it as it was', async () => {
    const store = await open();
    store.connection.raw.prepare("insert into settings values ('shop.name', 'kept')").run();
    const present = migrations.length;
    const step = (fails: boolean): Migration => ({
      version: present + 1,
      name: 'test-step',
      up: async (db, columns) => {
        await columns.table(db, 'of_tomorrow').addColumn('id', columns.text).execute();
        if (fails) throw new Error('the power went out');
      },
    });
    const backups = join(folder, 'backups');
    await expect(migrate(store.connection, backups, now, [...migrations, step(true)])).rejects.toThrow(
      'power',
    );
    expect(schemaVersion(store.connection)).toBe(present);
    expect(
      store.connection.raw
        .prepare("select count(*) as n from sqlite_schema where name = 'of_tomorrow'")
        .get(),
    ).toEqual({ n: 0 });

    const backup = await migrate(store.connection, backups, now, [...migrations, step(false)]);
    expect(schemaVersion(store.connection)).toBe(present + 1);
    const copy = new Database(backup ?? '', { readonly: true });
    expect(copy.prepare("select value from settings where key = 'shop.name'").get()).toEqual({
      value: 'kept',
    });
    expect(copy.prepare('select max(version) as v from schema_version').get()).toEqual({ v: present });
    copy.close();
    await store.close();
    // The program as it is does not know that step: it leaves the file alone.
    await expect(open()).rejects.toMatchObject({ code: 'newer-database' });
  });

  it('refuses a file that is no database, and one of another program', async () => {
    writeFileSync(databaseFile(folder), 'this is a letter, not a database, and it is long enough');
    await expect(open()).rejects.toMatchObject({ code: 'damaged-database' });
    expect(readFileSync(databaseFile(folder), 'utf8')).toContain('this is a letter');
    rmSync(databaseFile(folder));
    const other = new Database(databaseFile(folder));
    other.exec('create table recipes (name text)');
    other.close();
    await expect(open()).rejects.toMatchObject({ code: 'damaged-database' });
  });

  it('refuses a damaged database with a clear code', async () => {
    const store = await open();
    await store.close();
    const bytes = readFileSync(databaseFile(folder));
    bytes.fill(0xa5, 20, 4096);
    writeFileSync(databaseFile(folder), bytes);
    await expect(open()).rejects.toMatchObject({ code: 'damaged-database' });
  });

  it('says that a folder cannot be written', async () => {
    // A file where the folder should be stands for any path that cannot be made; it holds for the superuser too.
    const file = join(folder, 'a-file');
    writeFileSync(file, '');
    await expect(openStore(join(file, 'data'), 'call', now)).rejects.toMatchObject({ code: 'cannot-write' });
  });
});
