import {
  type Body,
  buildBook,
  type Conflict,
  type Entry,
  type EntryKind,
  entryKinds,
  entryText,
  type Finding,
  lintBook,
  readEntryText,
  writeHandbook,
} from '../handbook/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  findChange,
  findEntry,
  type HandbookChangeRow,
  type HandbookEntryRow,
  keepChange,
  learnedWords,
  listChanges,
  loadEntries,
  readSetting,
  readYamlFolder,
  removeEntry,
  saveEntry,
  undoLearnedWords,
  writeSetting,
} from '../store/index.ts';
import { conflictsKey, entryOfRow } from './book-shelf.ts';
import type { HandbookChange, OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { findingView, readEntry, titleOf } from './handbook.ts';
import { importFiles } from './handbook-import.ts';
import { toIso } from './instants.ts';
import { symptomTitle } from './views.ts';

/** Upkeep of the handbook in the shop: edits with history and undo, comparison with the shipped one, files in and out. */
export const upkeep = {
  'handbook.edit': async (desk, input) => editEntry(desk, input),
  'handbook.history': async (desk, { kind, id, before, limit }) => ({
    changes: await viewChanges(desk, await listChanges(desk.db, { kind, id, before, limit: limit ?? 50 })),
  }),
  'handbook.undo': async (desk, { seq, who }) => {
    const change = await findChange(desk.db, seq);
    if (!change || change.kind === 'handbook')
      throw new Problem('not-found', `There is no change ${seq} that can be taken back.`, { field: 'seq' });
    const row = await findEntry(desk.db, change.kind, change.id);
    if ((row?.body ?? null) !== change.after)
      throw new Problem(
        'conflict',
        `${quoted(change.id)} was changed again after change ${seq}; take the later one back first.`,
        {
          field: 'seq',
          id: change.id,
        },
      );
    const body = change.before === null ? null : (JSON.parse(change.before) as Body);
    const { seq: made } = await replaceEntry(desk, {
      kind: change.kind as EntryKind,
      id: change.id,
      body,
      path: row?.path ?? pathFor(change.kind, null),
      who,
      why: `took change ${seq} back`,
      undoes: seq,
    });
    return { seq: made, bookVersion: await desk.office.shelf.touch(desk.db) };
  },
  'handbook.compare': async (desk) => {
    const rows = await loadEntries(desk.db);
    const conflicts = JSON.parse((await readSetting(desk.db, conflictsKey)) ?? '[]') as Conflict[];
    return {
      entries: rows
        .filter((row) => row.body !== row.shipped)
        .map((row) => ({
          kind: row.kind,
          id: row.id,
          title: titleOfBody(row.kind, row.id, row.body ?? row.shipped),
          state:
            row.body === null
              ? ('removed' as const)
              : row.shipped === null
                ? ('added' as const)
                : ('edited' as const),
          yours: yamlOf(row, row.body),
          shipped: yamlOf(row, row.shipped),
        })),
      conflicts: conflicts.map((one) => ({
        kind: one.kind,
        id: one.id,
        field: one.field,
        base: valueWords(one.base),
        shipped: valueWords(one.theirs),
        yours: valueWords(one.ours),
      })),
    };
  },
  'handbook.settle': async (desk, { kind, id, take, who }) => {
    const row = await findEntry(desk.db, kind, id);
    if (!row)
      throw new Problem('not-found', `The handbook has no ${kind} ${quoted(id)}.`, { field: 'id', id });
    if (take === 'shipped') {
      const body = row.shipped === null ? null : (JSON.parse(row.shipped) as Body);
      await replaceEntry(desk, {
        kind: row.kind as EntryKind,
        id,
        body,
        path: row.path,
        who,
        why: 'took the shipped form',
      });
    }
    const conflicts = JSON.parse((await readSetting(desk.db, conflictsKey)) ?? '[]') as Conflict[];
    const left = conflicts.filter((one) => one.kind !== kind || one.id !== id);
    await writeSetting(desk.db, conflictsKey, JSON.stringify(left));
    return { bookVersion: await desk.office.shelf.touch(desk.db) };
  },
  'handbook.export': async (desk) => {
    const entries = (await loadEntries(desk.db)).map(entryOfRow).filter((entry) => entry !== null);
    return {
      files: [...writeHandbook(entries, readYamlFolder(desk.options.seedFolder))].map(({ path, text }) => ({
        path,
        text,
      })),
    };
  },
  'handbook.import': async (desk, input) => importFiles(desk, input),
  'handbook.learned': async (desk) => {
    const { book } = await desk.book();
    return {
      words: (await learnedWords(desk.db)).map((row) => ({
        phraseId: row.id,
        text: row.text,
        symptomId: row.symptom_id,
        title: symptomTitle(book, row.symptom_id),
        at: toIso(row.at_ms, row.at_offset),
      })),
    };
  },
  'handbook.unlearn': async (desk, { phraseId }) => {
    if (!(await undoLearnedWords(desk.db, phraseId, desk.now().ms)))
      throw new Problem('not-found', `There are no learned words ${quoted(phraseId)}.`, {
        field: 'phraseId',
        id: phraseId,
      });
    return { bookVersion: await desk.office.shelf.touch(desk.db) };
  },
} satisfies Partial<Group<'handbook.'>>;

/** A file for an entry that the shop writes anew. */
function pathFor(kind: string, system: string | null): string {
  const list: Readonly<Record<string, string>> = {
    symptom: 'symptoms',
    cause: 'causes',
    check: 'checks',
    spec: 'specs',
    caution: 'cautions',
    precondition: 'preconditions',
    component: 'components',
    'part-kind': 'part-kinds',
    family: 'families',
    model: 'models',
    question: 'questions',
  };
  const name = list[kind];
  if (!name)
    throw new Problem(
      'bad-input',
      `A ${kind} cannot be written here; new entries are: ${Object.keys(list).join(', ')}.`,
      {
        field: 'kind',
      },
    );
  return system === null ? `${name}-shop.yaml` : `systems/${system}/${name}-shop.yaml`;
}

function kindOf(kind: string): EntryKind {
  const known = entryKinds.find((one) => one === kind);
  if (!known)
    throw new Problem(
      'bad-input',
      `kind: one of ${entryKinds.join(', ')} was expected, ${quoted(kind)} was given.`,
      {
        field: 'kind',
      },
    );
  return known;
}

function refuseErrors(findings: readonly Finding[]): void {
  const error = findings.find((finding) => finding.severity === 'error');
  if (!error) return;
  const where = [error.line > 0 ? `line ${error.line}` : '', error.field ?? ''].filter(Boolean).join(', ');
  throw new Problem(
    'bad-handbook',
    where ? `${where}: ${error.message}` : `${error.id ?? ''}: ${error.message}`,
    {
      ...(error.line > 0 ? { line: error.line } : {}),
      ...(error.field ? { field: error.field } : {}),
      ...(error.id ? { id: error.id } : {}),
      ...(error.file ? { file: error.file } : {}),
    },
  );
}

async function editEntry(
  desk: Desk,
  input: ParsedInputOf<'handbook.edit'>,
): Promise<OutputOf<'handbook.edit'>> {
  const kind = kindOf(input.kind);
  const row = input.id === undefined ? undefined : await findEntry(desk.db, kind, input.id);
  if (input.id !== undefined && (!row || row.body === null))
    throw new Problem('not-found', `The handbook has no ${kind} ${quoted(input.id)}.`, {
      field: 'id',
      id: input.id,
    });
  if (input.ifYaml !== undefined && row && yamlOf(row, row.body) !== input.ifYaml)
    throw new Problem('conflict', `${quoted(row.id)} was changed meanwhile.`, {
      field: 'ifYaml',
      id: row.id,
    });
  const path = row?.path ?? pathFor(kind, input.system ?? null);
  if (input.yaml === null && !row)
    throw new Problem('bad-input', 'id: say which entry is to be removed.', { field: 'id' });

  let body: Body | null = null;
  let id = input.id ?? '';
  if (input.yaml !== null) {
    const read = readEntryText(input.yaml, { kind, path });
    refuseErrors(read.findings);
    const [entry] = read.entries;
    if (!entry) throw new Problem('bad-handbook', 'The text has no entry.', { field: 'yaml' });
    if (row && entry.id !== row.id)
      throw new Problem(
        'bad-handbook',
        `The id stays ${quoted(row.id)}; ${quoted(entry.id)} was written. Write a new entry instead.`,
        {
          field: 'id',
        },
      );
    if (!row && (await findEntry(desk.db, kind, entry.id))?.body)
      throw new Problem('conflict', `There is a ${kind} ${quoted(entry.id)} already.`, {
        field: 'id',
        id: entry.id,
      });
    body = entry.body;
    id = entry.id;
  }
  const { seq, findings } = await replaceEntry(desk, {
    kind,
    id,
    body,
    path,
    who: input.who,
    why: input.why ?? '',
  });
  const bookVersion = await desk.office.shelf.touch(desk.db);
  return {
    entry: body === null ? null : await readEntry(desk, kind, id),
    findings: findings.filter((finding) => finding.id === id).map(findingView),
    seq,
    bookVersion,
  };
}

interface Replacement {
  readonly kind: EntryKind;
  readonly id: string;
  /** Null removes the entry. */
  readonly body: Body | null;
  readonly path: string;
  readonly who: string;
  readonly why: string;
  readonly undoes?: number;
}

/** Puts one entry in place when the whole book still holds together with it, and keeps the change. */
async function replaceEntry(desk: Desk, change: Replacement): Promise<{ seq: number; findings: Finding[] }> {
  const rows = await loadEntries(desk.db);
  const row = rows.find((one) => one.kind === change.kind && one.id === change.id);
  const text = change.body === null ? null : JSON.stringify(change.body);
  const others = rows
    .filter((one) => one !== row)
    .map(entryOfRow)
    .filter((entry) => entry !== null);
  const entry: Entry[] =
    change.body === null
      ? []
      : [{ kind: change.kind, id: change.id, body: change.body, path: change.path, line: 0, fieldLines: {} }];
  const built = buildBook([...others, ...entry], 'edit');
  refuseErrors(built.findings);
  if (row && text === null && row.shipped === null) await removeEntry(desk.db, row.kind, row.id);
  else
    await saveEntry(desk.db, {
      kind: change.kind,
      id: change.id,
      path: change.path,
      position: row?.position ?? 1_000_000 + rows.length,
      body: text,
      shipped: row?.shipped ?? null,
    });
  const now = desk.now();
  const seq = await keepChange(desk.db, {
    at_ms: now.ms,
    at_offset: now.offset,
    who: change.who,
    why: change.why,
    kind: change.kind,
    id: change.id,
    before: row?.body ?? null,
    after: text,
    undoes: change.undoes ?? null,
  });
  return { seq, findings: lintBook(built.book, { entries: [...others, ...entry] }) };
}

const asEntry = (kind: string, id: string, path: string, body: string): Entry => ({
  kind: kind as EntryKind,
  id,
  body: JSON.parse(body) as Body,
  path,
  line: 0,
  fieldLines: {},
});

const yamlOf = (row: HandbookEntryRow, body: string | null): string | null =>
  body === null ? null : entryText(asEntry(row.kind, row.id, row.path, body));

const titleOfBody = (kind: string, id: string, body: string | null): string =>
  body === null ? id : titleOf(asEntry(kind, id, '', body));

const valueWords = (value: unknown): string =>
  value === undefined ? '(nothing)' : typeof value === 'string' ? value : JSON.stringify(value);

async function viewChanges(desk: Desk, rows: readonly HandbookChangeRow[]): Promise<HandbookChange[]> {
  const views: HandbookChange[] = [];
  for (const row of rows) {
    const present = await findEntry(desk.db, row.kind, row.id);
    const path = present?.path ?? '';
    const text = (body: string | null): string | null =>
      body === null ? null : entryText(asEntry(row.kind, row.id, path, body));
    views.push({
      seq: row.seq,
      at: toIso(row.at_ms, row.at_offset),
      who: row.who,
      why: row.why,
      kind: row.kind,
      id: row.id,
      title: titleOfBody(row.kind, row.id, row.after ?? row.before),
      before: text(row.before),
      after: text(row.after),
      undoes: row.undoes,
      canUndo: row.kind !== 'handbook' && (present?.body ?? null) === row.after,
    });
  }
  return views;
}
