import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument, visit } from 'yaml';
import { quoted } from '../problem.ts';
import { fieldPath } from './entry.ts';
import type { Finding } from './finding.ts';
import { firstUnreadable } from './unreadable.ts';

export interface HandbookFile {
  readonly path: string;
  readonly text: string;
}

export interface ParsedFile {
  readonly document: Document | undefined;
  readonly findings: Finding[];
  /** Line of an offset into the text, counted from 1. */
  lineAt(offset: number | undefined): number;
}

/** The largest file that is read: a thousand causes need about one megabyte. */
export const largestFile = 4_000_000;
const deepestNesting = 24;

/**
 * Reads one file as YAML 1.2 with positions. Whatever is wrong comes back as findings with file and line;
 * `document` is there only when the text is sound. Anchors, aliases and tags are refused: the book is written to be read,
 * and an alias can blow a small file up to gigabytes.
 */
export function parseYaml(file: HandbookFile): ParsedFile {
  const counter = new LineCounter();
  const findings: Finding[] = [];
  const lineAt = (offset: number | undefined): number =>
    offset === undefined ? 1 : Math.max(1, counter.linePos(offset).line);
  const wrong = (code: string, message: string, line: number, field?: string): void => {
    findings.push({ severity: 'error', code, message, file: file.path, line, ...(field ? { field } : {}) });
  };
  const none: ParsedFile = { document: undefined, findings, lineAt };

  if (file.text.length > largestFile) {
    const size = file.text.length.toLocaleString('en-US');
    wrong(
      'file-too-large',
      `at most ${largestFile.toLocaleString('en-US')} characters a file, got ${size}; split it`,
      1,
    );
    return none;
  }
  const bad = badCharacter(file.text);
  if (bad) {
    wrong('bad-character', bad.message, bad.line);
    return none;
  }
  // A byte order mark would count as a column of the first line.
  const text = file.text.replace(/^\ufeff/, '');
  let document: Document;
  try {
    document = parseDocument(text, { lineCounter: counter, prettyErrors: false, version: '1.2' });
  } catch (error) {
    // Thousands of nested brackets exhaust the stack of any recursive reader.
    wrong(
      'not-yaml',
      `the text cannot be read: ${error instanceof Error ? error.message : String(error)}`,
      1,
    );
    return none;
  }
  // After the first break in the text the rest is guesswork, so only fields written twice are listed beside it.
  const problems = [...document.errors, ...document.warnings].sort((a, b) => a.pos[0] - b.pos[0]);
  const broken = problems.find((problem) => codeOf(problem.code) !== 'duplicate-field');
  for (const problem of problems) {
    if (problem !== broken && codeOf(problem.code) !== 'duplicate-field') continue;
    const line = lineAt(problem.pos[0]);
    const tab = problem === broken ? tabIndent(text, line) : undefined;
    if (tab !== undefined) wrong('tab-indent', sentenceOf('TAB_AS_INDENT', ''), tab);
    else wrong(codeOf(problem.code), sentenceOf(problem.code, problem.message), line);
  }
  if (findings.length > 0) return none;
  for (const flaw of structureFlaws(document))
    wrong(flaw.code, flaw.message, lineAt(flaw.offset), flaw.field);
  return findings.length > 0 ? none : { document, findings, lineAt };
}

function badCharacter(text: string): { message: string; line: number } | undefined {
  const found = firstUnreadable(text);
  if (!found) return undefined;
  const line = text.slice(0, found.index).split('\n').length;
  const code = found.character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
  const message =
    found.character === '\ufffd'
      ? 'the file is not UTF-8 text (a character could not be read); save it as UTF-8'
      : `a control character (U+${code}) stands in the text; save the file as plain UTF-8 text`;
  return { message, line };
}

/** The line at or just before a break that is indented with a tab, which the reader names in many ways. */
function tabIndent(text: string, line: number): number | undefined {
  const lines = text.split('\n');
  for (const at of [line, line - 1]) if (/^ *\t\s*\S/.test(lines[at - 1] ?? '')) return at;
  return undefined;
}

function codeOf(code: string): string {
  if (code === 'DUPLICATE_KEY') return 'duplicate-field';
  if (code === 'TAB_AS_INDENT') return 'tab-indent';
  return 'not-yaml';
}

function sentenceOf(code: string, message: string): string {
  if (code === 'DUPLICATE_KEY') return 'the same field is written twice in one mapping; keep one of them';
  if (code === 'TAB_AS_INDENT') return 'a tab is used for indenting; YAML is indented with spaces';
  if (code === 'MULTIPLE_DOCS') return 'one file holds one document; remove the “---” lines between';
  if (code === 'TAG_RESOLVE_FAILED') return `tags (“!…”) are not used in the handbook: ${message}`;
  return `this is not sound YAML: ${message}`;
}

function structureFlaws(
  document: Document,
): { code: string; message: string; offset?: number; field?: string }[] {
  const flaws: { code: string; message: string; offset?: number; field?: string }[] = [];
  visit(document, {
    Node(_key, node, path) {
      const offset = node.range?.[0];
      if (isAlias(node) || node.anchor) {
        const name = isAlias(node) ? `*${node.source}` : `&${node.anchor}`;
        flaws.push({
          code: 'alias',
          message: `anchors and aliases (${quoted(name)}) are not used; write the value out`,
          offset,
        });
        return visit.BREAK;
      }
      if (node.tag) {
        const message = `tags (${quoted(node.tag)}) are not used in the handbook; write the plain value`;
        flaws.push({ code: 'not-yaml', message, offset });
        return visit.BREAK;
      }
      if (path.length > deepestNesting * 2) {
        flaws.push({ code: 'too-deep', message: `nested deeper than ${deepestNesting} levels`, offset });
        return visit.BREAK;
      }
      return undefined;
    },
    Pair(_key, pair) {
      const key = pair.key;
      if (!isScalar(key)) {
        flaws.push({
          code: 'bad-field-name',
          message: 'a field name must be plain text',
          offset: offsetOf(key),
        });
      } else if (typeof key.value !== 'string' || key.value === '__proto__') {
        const message = `a field name must be text, got ${quoted(key.source ?? key.value)}`;
        flaws.push({ code: 'bad-field-name', message, offset: key.range?.[0], field: String(key.value) });
      }
      return undefined;
    },
  });
  return flaws;
}

const offsetOf = (node: unknown): number | undefined =>
  isMap(node) || isSeq(node) || isScalar(node) ? node.range?.[0] : undefined;

/** The line of every field path below a node. */
export function fieldLinesOf(
  node: unknown,
  lineAt: (offset: number | undefined) => number,
): Record<string, number> {
  const lines: Record<string, number> = {};
  const walk = (current: unknown, path: readonly PropertyKey[]): void => {
    if (isMap(current)) {
      for (const pair of current.items) {
        if (!isScalar(pair.key)) continue;
        const here = [...path, String(pair.key.value)];
        lines[fieldPath(here)] = lineAt(pair.key.range?.[0]);
        walk(pair.value, here);
      }
    } else if (isSeq(current)) {
      current.items.forEach((item, index) => {
        const here = [...path, index];
        lines[fieldPath(here)] = lineAt(offsetOf(item));
        walk(item, here);
      });
    }
  };
  walk(node, []);
  return lines;
}
