/** How grave: an error keeps the book out of use, a warning is a hole in the content, a note is worth knowing. */
export type Severity = 'error' | 'warning' | 'note';

/** One thing wrong with the handbook, with the place where it is written. */
export interface Finding {
  readonly severity: Severity;
  /** Kebab-case name of the rule. */
  readonly code: string;
  /** What was expected and what stands there, quoting the value. */
  readonly message: string;
  readonly file: string;
  /** Counted from 1; 0 where the entry was not read from a file. */
  readonly line: number;
  /** Field path inside the entry, such as `outcomes[1].range`. */
  readonly field?: string;
  readonly id?: string;
  /** Other ids that it is about, such as the causes that no check tells apart. */
  readonly about?: readonly string[];
}

const gravity: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** The findings in reading order: by file, line, then gravity. The list handed in is not changed. */
export function inReadingOrder(findings: readonly Finding[]): Finding[] {
  return [...findings].sort(
    (a, b) =>
      (a.file < b.file ? -1 : a.file > b.file ? 1 : 0) ||
      a.line - b.line ||
      gravity[a.severity] - gravity[b.severity],
  );
}

/** One line for a terminal: file:line severity code message. */
export function findingLine(finding: Finding): string {
  const { file, line, severity, code, id, field, message } = finding;
  const what = [id, field].filter(Boolean).join(' ');
  return `${file}:${line}: ${severity} [${code}]${what ? ` ${what}:` : ''} ${message}`;
}
