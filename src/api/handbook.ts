import {
  buildBook,
  countSystems,
  coverage,
  type Entry,
  entryText,
  type Finding,
  lintBook,
  readHandbook,
} from '../handbook/index.ts';
import { Problem, quoted } from '../problem.ts';
import { findEntry, fold, loadEntries, readYamlFolder } from '../store/index.ts';
import type { CauseId, CheckId } from '../terms.ts';
import { entryOfRow, wiringOf } from './book-shelf.ts';
import type { EntryView, FindingView } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';

/** What the last check of the handbook in use found: it takes seconds, and holds until the book changes. */
const lastCheck = new WeakMap<object, { bookVersion: string; findings: readonly Finding[] }>();

export const handbook = {
  'handbook.check': async (desk, { path, files }) => {
    if (path !== undefined && files !== undefined)
      throw new Problem('bad-input', 'Give either path or files.', { field: 'path' });
    let entries: Entry[];
    let findings: Finding[] = [];
    if (path === undefined && files === undefined) {
      entries = (await loadEntries(desk.db)).map(entryOfRow).filter((entry) => entry !== null);
    } else {
      const read = readHandbook(files ?? readYamlFolder(path ?? ''));
      entries = read.entries;
      findings = read.findings;
    }
    const built = buildBook(entries, 'check');
    const sound = [...findings, ...built.findings].every((finding) => finding.severity !== 'error');
    const wiring = sound ? wiringOf(built.book).wiringFor(null) : null;
    const sources = wiring
      ? { entries, wiring: (check: CheckId, cause: CauseId | null) => wiring.chancesFor(check, cause) }
      : { entries };
    const all = [...findings, ...built.findings, ...lintBook(built.book, sources)];
    if (path === undefined && files === undefined) {
      lastCheck.set(desk.office, { bookVersion: (await desk.book()).book.version, findings: all });
    }
    return {
      ok: all.every((finding) => finding.severity !== 'error'),
      findings: all.map(findingView),
      coverage: Object.fromEntries(
        Object.entries(coverage(built.book)).filter(
          (pair): pair is [string, number] => typeof pair[1] === 'number',
        ),
      ),
    };
  },
  'handbook.coverage': async (desk) => {
    const { book } = await desk.book();
    const last = lastCheck.get(desk.office);
    const count = (severity: Finding['severity']): number =>
      last?.findings.filter((finding) => finding.severity === severity).length ?? 0;
    return {
      bookVersion: book.version,
      systems: Object.entries(countSystems(book)).map(([system, counts]) => ({ system, ...counts })),
      checked:
        last?.bookVersion === book.version
          ? { errors: count('error'), warnings: count('warning'), notes: count('note') }
          : null,
    };
  },
  'handbook.reload': async (desk) => {
    const changed = await desk.office.shelf.loadShipped(desk.db, desk.now(), 'reload');
    return { bookVersion: (await desk.book()).book.version, changed };
  },
  'handbook.browse': async (desk, { kind, system, text }) => {
    const wanted = fold(text ?? '');
    const rows = await loadEntries(desk.db);
    return {
      entries: rows.flatMap((row) => {
        const entry = entryOfRow(row);
        if (!entry || entry.kind === 'phrases' || entry.kind === 'handbook') return [];
        const one = {
          kind: entry.kind,
          id: entry.id,
          title: titleOf(entry),
          system: systemOf(entry),
          edited: row.body !== row.shipped,
        };
        if (kind !== undefined && one.kind !== kind) return [];
        if (system !== undefined && one.system !== system) return [];
        if (wanted && !fold(`${one.title} ${one.id}`).includes(wanted)) return [];
        return [one];
      }),
    };
  },
  'handbook.read': async (desk, { kind, id }) => readEntry(desk, kind, id),
} satisfies Partial<Group<'handbook.'>>;

/** @throws Problem not-found */
export async function readEntry(desk: Desk, kind: string, id: string): Promise<EntryView> {
  const row = await findEntry(desk.db, kind, id);
  const entry = row && entryOfRow(row);
  if (!row || !entry)
    throw new Problem('not-found', `The handbook has no ${kind} ${quoted(id)}.`, { field: 'id', id });
  const others = (await loadEntries(desk.db)).map(entryOfRow).filter((one) => one !== null);
  const named = new Set(textsIn(entry.body));
  const related = others.filter(
    (one) =>
      one.kind !== 'phrases' &&
      !(one.kind === entry.kind && one.id === entry.id) &&
      (named.has(one.id) || textsIn(one.body).includes(entry.id)),
  );
  return {
    kind: entry.kind,
    id: entry.id,
    body: { ...entry.body },
    yaml: entryText(entry),
    edited: row.body !== row.shipped,
    related: related.slice(0, 200).map((one) => ({ kind: one.kind, id: one.id, title: titleOf(one) })),
  };
}

export function findingView(finding: Finding): FindingView {
  return {
    severity: finding.severity,
    code: finding.code,
    message: finding.message,
    file: finding.file || null,
    line: finding.line || null,
    field: finding.field ?? null,
    id: finding.id ?? null,
  };
}

export function titleOf(entry: Entry): string {
  const { title, name, ask, hazard, maker } = entry.body;
  for (const text of [title, maker && name ? `${maker} ${name}` : name, ask, hazard])
    if (typeof text === 'string' && text) return text;
  return entry.id;
}

function systemOf(entry: Entry): string | null {
  if (typeof entry.body.system === 'string') return entry.body.system;
  return /^systems\/([a-z-]+)\//.exec(entry.path)?.[1] ?? null;
}

/** Every text and key inside an entry, to see which ids it names. */
function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (Array.isArray(value)) return value.flatMap(textsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [key, ...textsIn(inner)]);
}
