import { closestName } from './closest-name.ts';

/** The kinds of things a handbook is made of. */
export const entryKinds = [
  'handbook',
  'symptom',
  'cause',
  'check',
  'spec',
  'caution',
  'precondition',
  'component',
  'part-kind',
  'family',
  'model',
  'question',
  'phrases',
  'circuit',
] as const;
export type EntryKind = (typeof entryKinds)[number];

/** A mapping as it stands in the YAML, snake_case names and no defaults filled in. */
export type Body = Readonly<Record<string, unknown>>;

/**
 * One thing of the handbook in its own form. Within one kind an id is one thing over the whole handbook.
 * For phrases the id is file name and symptom (`starting/start-dead`), so that several files may add words for one symptom.
 */
export interface Entry {
  readonly kind: EntryKind;
  readonly id: string;
  readonly body: Body;
  /** The file it belongs to, such as `systems/starting/causes.yaml`. */
  readonly path: string;
  /** Counted from 1; 0 where it was not read from a file. */
  readonly line: number;
  /** Line of each field path; only where it was read from a file. */
  readonly fieldLines?: Readonly<Record<string, number>>;
  /** Its form is wrong and has been reported; the id counts as known, the rest is not used. */
  readonly flawed?: boolean;
}

/** How a file holds its entries: a list, one mapping, symptom → texts, or one list of texts. */
export interface FilePlace {
  readonly kind: EntryKind;
  readonly form: 'list' | 'one' | 'phrases' | 'texts';
  /** File name without folder and ending. */
  readonly stem: string;
}

const listFiles: Readonly<Record<string, EntryKind>> = {
  symptoms: 'symptom',
  causes: 'cause',
  checks: 'check',
  specs: 'spec',
  cautions: 'caution',
  preconditions: 'precondition',
  components: 'component',
  'part-kinds': 'part-kind',
  families: 'family',
  models: 'model',
  questions: 'question',
};

/** Texts that belong to no symptom of a gasoline scooter. */
export type TextGroup = 'out-of-scope' | 'electric-drive';

/** The group a file of texts adds to, told from its stem (`out-of-scope`, `out-of-scope-2`); undefined for symptoms' phrases. */
export function textGroupOf(stem: string): TextGroup | undefined {
  const groups: readonly TextGroup[] = ['out-of-scope', 'electric-drive'];
  return groups.find((group) => stem === group || stem.startsWith(`${group}-`));
}

/** What a file holds, told from its path; a sentence where the path is not one of the handbook's. */
export function placeOfFile(path: string): FilePlace | string {
  const parts = path.split('/');
  const name = parts.at(-1) ?? '';
  const folder = parts.at(-2);
  if (parts.includes('..') || path.startsWith('/') || path.includes('\\')) {
    return 'a path inside the handbook was expected, without “..” and not starting at the root';
  }
  if (!name.endsWith('.yaml')) return 'files of the handbook end in .yaml';
  const stem = name.slice(0, -'.yaml'.length);
  if (folder === 'circuits') return { kind: 'circuit', form: 'one', stem };
  if (folder === 'phrases') {
    return { kind: 'phrases', form: textGroupOf(stem) ? 'texts' : 'phrases', stem };
  }
  if (stem === 'handbook') return { kind: 'handbook', form: 'one', stem };
  // causes.yaml, causes-2.yaml, causes-fuel.yaml: all lists of causes.
  for (const [listName, kind] of Object.entries(listFiles)) {
    if (stem === listName || stem.startsWith(`${listName}-`)) return { kind, form: 'list', stem };
  }
  const close = closestName(stem, [...Object.keys(listFiles), 'handbook']);
  return `the name says nothing about what is inside${close ? `; did you mean “${close}.yaml”?` : ''}`;
}

/** The system whose folder a file is in (`systems/<system>/…`), if any. */
export function systemFolderOf(path: string): string | undefined {
  return /(?:^|\/)systems\/([^/]+)\//.exec(path)?.[1];
}

/** A field path as people write it: `priors[2].cause`. */
export function fieldPath(path: readonly PropertyKey[]): string {
  let text = '';
  for (const step of path) {
    text += typeof step === 'number' ? `[${step}]` : text ? `.${String(step)}` : String(step);
  }
  return text;
}

/** Line of a field of an entry; of the nearest field around it where it has none of its own. */
export function lineOfField(entry: Pick<Entry, 'line' | 'fieldLines'>, field: string): number {
  let path = field;
  while (path) {
    const line = entry.fieldLines?.[path];
    if (line !== undefined) return line;
    path = path.slice(0, Math.max(path.lastIndexOf('.'), path.lastIndexOf('['), 0));
  }
  return entry.line;
}
