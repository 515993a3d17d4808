import { buildBook, type Entry, readHandbook } from '../handbook/index.ts';
import { digestOf, keepChange, loadEntries, removeEntry, saveEntry } from '../store/index.ts';
import { entryOfRow } from './book-shelf.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import { findingView } from './handbook.ts';

/** Takes entries from files over those in use: all that are sound together, or none. */
export async function importFiles(
  desk: Desk,
  input: ParsedInputOf<'handbook.import'>,
): Promise<OutputOf<'handbook.import'>> {
  const read = readHandbook(input.files);
  const rows = await loadEntries(desk.db);
  const present = new Map(rows.map((row) => [`${row.kind} ${row.id}`, row]));
  const incoming = new Map(read.entries.map((entry) => [`${entry.kind} ${entry.id}`, entry]));
  const kept = rows
    .filter((row) => !incoming.has(`${row.kind} ${row.id}`) && !input.replaceAll)
    .map(entryOfRow)
    .filter((entry) => entry !== null);
  const built = buildBook([...kept, ...read.entries], 'import');
  const findings = [...read.findings, ...built.findings];
  const ok = findings.every((finding) => finding.severity !== 'error');
  const isSame = (entry: Entry): boolean => {
    const body = present.get(`${entry.kind} ${entry.id}`)?.body;
    return body !== undefined && body !== null && digestOf(JSON.parse(body)) === digestOf(entry.body);
  };
  const changed = read.entries.filter((entry) => !isSame(entry));
  const added = changed.filter((entry) => !present.get(`${entry.kind} ${entry.id}`)?.body);
  const removed = input.replaceAll
    ? rows.filter((row) => row.body !== null && !incoming.has(`${row.kind} ${row.id}`))
    : [];
  const result = {
    ok,
    findings: findings.map(findingView),
    added: added.length,
    changed: changed.length - added.length,
    removed: removed.length,
    unchanged: read.entries.length - changed.length,
  };
  if (input.dryRun || !ok) return { ...result, bookVersion: (await desk.book()).book.version };
  const now = desk.now();
  const keep = (kind: string, id: string, before: string | null, after: string | null): Promise<number> =>
    keepChange(desk.db, {
      at_ms: now.ms,
      at_offset: now.offset,
      who: input.who,
      why: 'import',
      kind,
      id,
      before,
      after,
      undoes: null,
    });
  for (const [place, entry] of changed.entries()) {
    const row = present.get(`${entry.kind} ${entry.id}`);
    const body = JSON.stringify(entry.body);
    await saveEntry(desk.db, {
      kind: entry.kind,
      id: entry.id,
      path: entry.path,
      position: row?.position ?? 1_000_000 + rows.length + place,
      body,
      shipped: row?.shipped ?? null,
    });
    await keep(entry.kind, entry.id, row?.body ?? null, body);
  }
  for (const row of removed) {
    if (row.shipped === null) await removeEntry(desk.db, row.kind, row.id);
    else await saveEntry(desk.db, { ...row, body: null });
    await keep(row.kind, row.id, row.body, null);
  }
  return { ...result, bookVersion: await desk.office.shelf.touch(desk.db) };
}
