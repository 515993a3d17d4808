import {
  Document,
  isMap,
  isScalar,
  isSeq,
  Pair,
  parseDocument,
  type ToStringOptions,
  YAMLMap,
  YAMLSeq,
} from 'yaml';
import { Problem, quoted } from '../problem.ts';
import { type Entry, type FilePlace, placeOfFile } from './entry.ts';
import { type HandbookFile, parseYaml } from './parse-yaml.ts';
import { readHandbook } from './read-handbook.ts';
import { sameContent } from './same-content.ts';
import { freshNode, updatedNode } from './update-node.ts';

/**
 * Writes entries as the handbook's files; what `readHandbook` then reads has the same content. With the files they came
 * from (`originals`), a file whose entries did not change comes back to the letter, and in a changed one comments and
 * layout stay around what did not change. Files without entries are left out. Throws `bad-handbook` where a path is not one
 * of the handbook's, two entries of one kind share an id, or a text cannot be written so that it reads the same.
 */
export function writeHandbook(
  entries: readonly Entry[],
  originals: readonly HandbookFile[] = [],
): HandbookFile[] {
  const byPath = new Map<string, Entry[]>(originals.map((file) => [file.path, []]));
  const seen = new Set<string>();
  for (const entry of entries) {
    const key = `${entry.kind} ${entry.id}`;
    if (seen.has(key)) {
      throw new Problem(
        'bad-handbook',
        `two entries are the ${entry.kind} ${quoted(entry.id)}; one id is one thing`,
        {
          file: entry.path,
          id: entry.id,
        },
      );
    }
    seen.add(key);
    byPath.set(entry.path, [...(byPath.get(entry.path) ?? []), entry]);
  }
  const texts = new Map(originals.map((file) => [file.path, file.text]));
  const files: HandbookFile[] = [];
  for (const [path, ofFile] of byPath) {
    if (ofFile.length > 0) files.push({ path, text: writtenFile(path, ofFile, texts.get(path)) });
  }
  return files;
}

function writtenFile(path: string, entries: readonly Entry[], original: string | undefined): string {
  const place = placeOfFile(path);
  const wrongPlace = typeof place === 'string' ? place : entries.find((entry) => !fits(entry, place));
  if (typeof place === 'string' || wrongPlace) {
    const why =
      typeof wrongPlace === 'object'
        ? `the ${wrongPlace.kind} ${quoted(wrongPlace.id)} does not belong there`
        : place;
    throw new Problem('bad-handbook', `${quoted(path)}: ${String(why)}`, { file: path });
  }
  if (original !== undefined) {
    if (readsAs(path, original, entries)) return original;
    const spliced = splicedFile(path, original, place, entries);
    if (spliced !== undefined && readsAs(path, spliced, entries)) return spliced;
    const document = parseYaml({ path, text: original }).document;
    if (document) {
      fill(document, place, entries);
      const text = document.toString(layoutOf(original));
      if (readsAs(path, text, entries)) return text;
    }
  }
  const document = new Document(null);
  fill(document, place, entries);
  const text = document.toString(freshLayout);
  if (readsAs(path, text, entries)) return text;
  throw new Problem('bad-handbook', `${quoted(path)}: its entries hold something that YAML cannot hold`, {
    file: path,
  });
}

const freshLayout: ToStringOptions = { lineWidth: 140, flowCollectionPadding: false };

/** The layout habits of a file, so that a rewritten line looks like its neighbors. */
function layoutOf(text: string): ToStringOptions {
  return {
    lineWidth: 140,
    flowCollectionPadding: /[{[] \S/.test(text),
    indentSeq: !/\n( *)[a-z_0-9-]+:[^\S\n]*\n\1- /.test(text),
  };
}

/**
 * The file with the changed entries written anew and every other line as it was. Works where each entry starts a line
 * of its own at the left edge; undefined otherwise. Comment lines above an entry go with it.
 */
function splicedFile(
  path: string,
  original: string,
  place: FilePlace,
  entries: readonly Entry[],
): string | undefined {
  if (place.form !== 'list' && place.form !== 'phrases') return undefined;
  const read = readHandbook([{ path, text: original }]).entries;
  const lines = original.split('\n');
  const starts = read.map((entry) => entry.line - 1);
  const atEdge = starts.every((line) =>
    (place.form === 'list' ? /^- / : /^[a-z0-9-]+:/).test(lines[line] ?? ''),
  );
  if (!atEdge || starts.length === 0) return undefined;
  // Each block begins at the comment lines right above its entry.
  const begins = starts.map((start, index) => {
    let line = start;
    const floor = index === 0 ? start : (starts[index - 1] ?? 0) + 1;
    while (line > floor && /^(#|\s*$)/.test(lines[line - 1] ?? '')) line--;
    return line;
  });
  const blocks = new Map(
    read.map((entry, index) => {
      const start = starts[index] ?? 0;
      const own = lines.slice(start, begins[index + 1] ?? lines.length).join('\n');
      const lead = lines.slice(begins[index] ?? start, start).map((line) => `${line}\n`);
      return [entry.id, { body: entry.body, lead: lead.join(''), own: own.replace(/\n*$/, '\n') }] as const;
    }),
  );
  const parts = entries.map((entry) => {
    const block = blocks.get(entry.id);
    if (block && sameContent(block.body, entry.body)) return block.lead + block.own;
    const document = (block && parseYaml({ path, text: block.own }).document) ?? new Document(null);
    fill(document, place, [entry]);
    return (block?.lead ?? '') + document.toString(layoutOf(original));
  });
  return [...lines.slice(0, begins[0]).map((line) => `${line}\n`), ...parts].join('');
}

function fits(entry: Entry, place: FilePlace): boolean {
  if (entry.kind !== place.kind) return false;
  if (place.form === 'phrases') return entry.id === `${place.stem}/${String(entry.body.symptom)}`;
  if (place.form === 'texts') return entry.id === place.stem;
  return place.kind === 'circuit'
    ? entry.id === place.stem && entry.body.id === entry.id
    : entry.body.id === entry.id;
}

function readsAs(path: string, text: string, entries: readonly Entry[]): boolean {
  const read = readHandbook([{ path, text }]).entries;
  return (
    read.length === entries.length &&
    entries.every((entry, index) => read[index]?.id === entry.id && sameContent(read[index].body, entry.body))
  );
}

function fill(document: Document, place: FilePlace, entries: readonly Entry[]): void {
  if (place.form === 'list') {
    const seq = isSeq(document.contents) ? document.contents : new YAMLSeq(document.schema);
    const nodes = new Map(
      seq.items.flatMap((item) => (isMap(item) ? [[String(item.get('id')), item] as const] : [])),
    );
    seq.items = entries.map((entry) => {
      const node = nodes.get(entry.id);
      if (node) return updatedNode(document, node, entry.body);
      const fresh = freshNode(document, entry.body);
      if (isMap(fresh)) fresh.flow = place.kind === 'component' || place.kind === 'part-kind';
      return fresh;
    });
    document.contents = seq as unknown as typeof document.contents;
  } else if (place.form === 'phrases') {
    const map = isMap(document.contents) ? document.contents : new YAMLMap(document.schema);
    const pairs = new Map(map.items.map((pair) => [isScalar(pair.key) ? String(pair.key.value) : '', pair]));
    map.items = entries.map((entry) => {
      const symptom = String(entry.body.symptom);
      const pair = pairs.get(symptom) ?? new Pair(document.createNode(symptom), null);
      pair.value = updatedNode(document, pair.value, entry.body.phrases);
      return pair as (typeof map.items)[number];
    });
    document.contents = map as unknown as typeof document.contents;
  } else {
    const root = updatedNode(document, document.contents, entries[0]?.body);
    if (isMap(root)) root.flow = false;
    document.contents = root as unknown as typeof document.contents;
  }
}

/** The YAML of one entry alone, for a screen that shows or edits it. */
export function entryText(entry: Entry): string {
  const document = new Document(null);
  const node = freshNode(document, entry.body);
  if (isMap(node)) node.flow = false;
  document.contents = node as unknown as typeof document.contents;
  return document.toString(freshLayout);
}

/** `symptom: id` and `phrases: […]` as the file has them, `id: […]`; the lines stay where they are. */
function bySymptom(text: string): string {
  const symptom = /^symptom:[ \t]*["']?([a-z0-9-]+)["']?[ \t]*\r?$/m.exec(text);
  if (!symptom || !/^phrases:/m.test(text)) return text;
  return text.replace(symptom[0], '').replace(/^phrases:/m, `${symptom[1]}:`);
}

/** Reads back what `entryText` wrote, edited by a person: findings name line and field of that text. */
export function readEntryText(
  text: string,
  like: Pick<Entry, 'kind' | 'path'>,
): ReturnType<typeof readHandbook> {
  const place = placeOfFile(like.path);
  if (typeof place !== 'string' && place.form === 'phrases')
    return readHandbook([{ path: like.path, text: bySymptom(text) }]);
  if (typeof place === 'string' || place.form !== 'list') return readHandbook([{ path: like.path, text }]);
  // One mapping is read as the only entry of its list; the shift of two columns does not move lines.
  const body = parseDocument(text).contents;
  if (!isMap(body)) return readHandbook([{ path: like.path, text }]);
  const indented = text.replaceAll(/^(?=.)/gm, '  ').replace('  ', '- ');
  return readHandbook([{ path: like.path, text: indented }]);
}
