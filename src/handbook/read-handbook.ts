import { isMap, isScalar, isSeq } from 'yaml';
import { systems } from '../book/index.ts';
import { quoted } from '../problem.ts';
import { didYouMean } from './closest-name.ts';
import { type Body, type Entry, type FilePlace, placeOfFile, systemFolderOf } from './entry.ts';
import { shapeFindings } from './explain-shape.ts';
import { type Finding, inReadingOrder } from './finding.ts';
import { fieldLinesOf, type HandbookFile, type ParsedFile, parseYaml } from './parse-yaml.ts';

/**
 * Reads the files of a handbook (paths inside the handbook folder, `/` between folders) into entries. Every finding names
 * file, line and, inside an entry, the field. Entries whose form is wrong come back marked `flawed`, so that their ids
 * count as known; a file that cannot be read gives findings and no entries. Reads nothing itself and never throws on content.
 */
export function readHandbook(files: readonly HandbookFile[]): { entries: Entry[]; findings: Finding[] } {
  const entries: Entry[] = [];
  const findings: Finding[] = [];
  for (const file of files) {
    const read = readFile(file);
    findings.push(...read.findings);
    for (const entry of read.entries) {
      const flaws = shapeFindings(entry);
      findings.push(...flaws);
      entries.push(flaws.length > 0 ? { ...entry, flawed: true } : entry);
    }
  }
  return { entries, findings: inReadingOrder(findings) };
}

function readFile(file: HandbookFile): { entries: Entry[]; findings: Finding[] } {
  const at = (code: string, message: string, line = 1): Finding => ({
    severity: 'error',
    code,
    message,
    file: file.path,
    line,
  });
  const place = placeOfFile(file.path);
  if (typeof place === 'string') return { entries: [], findings: [at('unknown-file', place)] };
  const system = systemFolderOf(file.path);
  if (system !== undefined && !(systems as readonly string[]).includes(system)) {
    const message = `there is no system “${system}”${didYouMean(system, systems)}; the systems are ${systems.join(', ')}`;
    return { entries: [], findings: [at('unknown-system', message)] };
  }
  const parsed = parseYaml(file);
  if (!parsed.document) return { entries: [], findings: parsed.findings };
  const root = parsed.document.contents;
  if (root === null || (isScalar(root) && root.value === null)) {
    return { entries: [], findings: [at('empty-file', 'the file is empty; write its entries or remove it')] };
  }
  return place.form === 'list' ? readList(file, place, parsed) : readMapping(file, place, parsed);
}

function readList(
  file: HandbookFile,
  place: FilePlace,
  parsed: ParsedFile,
): { entries: Entry[]; findings: Finding[] } {
  const root = parsed.document?.contents;
  const entries: Entry[] = [];
  const findings: Finding[] = [];
  if (!isSeq(root)) {
    const message = `a list was expected (each ${place.kind} starts with “- id: …”), got ${kindOfNode(root)}`;
    return {
      entries,
      findings: [
        { severity: 'error', code: 'not-a-list', message, file: file.path, line: lineOf(root, parsed) },
      ],
    };
  }
  root.items.forEach((item, index) => {
    const line = lineOf(item, parsed);
    const body = isMap(item) ? (item.toJS(document(parsed)) as Body) : undefined;
    const id = body?.id;
    if (!body || typeof id !== 'string' || id === '') {
      const message = body
        ? `entry ${index + 1} of the list has no id${id === undefined ? '' : `: got ${quoted(id)}`}; give it “id: …” as text`
        : `entry ${index + 1} of the list: a mapping with fields was expected, got ${kindOfNode(item)}`;
      const field = body ? { field: 'id' } : {};
      findings.push({
        severity: 'error',
        code: body ? 'missing-field' : 'not-a-mapping',
        message,
        file: file.path,
        line,
        ...field,
      });
      return;
    }
    entries.push({
      kind: place.kind,
      id,
      body,
      path: file.path,
      line,
      fieldLines: fieldLinesOf(item, parsed.lineAt),
    });
  });
  return { entries, findings };
}

function readMapping(
  file: HandbookFile,
  place: FilePlace,
  parsed: ParsedFile,
): { entries: Entry[]; findings: Finding[] } {
  const root = parsed.document?.contents;
  const wrong = (
    code: string,
    message: string,
    line: number,
    field?: string,
  ): { entries: Entry[]; findings: Finding[] } => ({
    entries: [],
    findings: [{ severity: 'error', code, message, file: file.path, line, ...(field ? { field } : {}) }],
  });
  if (!isMap(root))
    return wrong('not-a-mapping', `a mapping was expected, got ${kindOfNode(root)}`, lineOf(root, parsed));
  const body = root.toJS(document(parsed)) as Body;
  const lines = fieldLinesOf(root, parsed.lineAt);
  const line = lineOf(root, parsed);
  if (place.form === 'phrases') {
    const linesBySymptom = new Map<string, Record<string, number>>();
    for (const [field, at] of Object.entries(lines)) {
      const bracket = field.indexOf('[');
      if (bracket < 0) continue;
      const symptom = field.slice(0, bracket);
      const own = linesBySymptom.get(symptom) ?? {};
      own[`phrases${field.slice(bracket)}`] = at;
      linesBySymptom.set(symptom, own);
    }
    const entries = Object.entries(body).map(
      ([symptom, phrases]): Entry => ({
        kind: 'phrases',
        id: `${place.stem}/${symptom}`,
        body: { symptom, phrases },
        path: file.path,
        line: lines[symptom] ?? line,
        fieldLines: linesBySymptom.get(symptom) ?? {},
      }),
    );
    return { entries, findings: [] };
  }
  if (place.form === 'texts') {
    return {
      entries: [{ kind: 'phrases', id: place.stem, body, path: file.path, line, fieldLines: lines }],
      findings: [],
    };
  }
  const id = body.id;
  if (typeof id !== 'string' || id === '')
    return wrong('missing-field', 'the field “id” is missing', line, 'id');
  if (place.kind === 'circuit' && id !== place.stem) {
    return wrong(
      'wrong-value',
      `the id must be the file's name “${place.stem}”, got ${quoted(id)}`,
      lines.id ?? line,
      'id',
    );
  }
  return {
    entries: [{ kind: place.kind, id, body, path: file.path, line, fieldLines: lines }],
    findings: [],
  };
}

function document(parsed: ParsedFile): NonNullable<ParsedFile['document']> {
  if (!parsed.document) throw new TypeError('a file without a document has no nodes');
  return parsed.document;
}

const lineOf = (node: unknown, parsed: ParsedFile): number =>
  parsed.lineAt(isMap(node) || isSeq(node) || isScalar(node) ? node.range?.[0] : undefined);

function kindOfNode(node: unknown): string {
  if (isMap(node)) return 'a mapping';
  if (isSeq(node)) return 'a list';
  return isScalar(node) ? quoted(node.value) : 'nothing';
}
