import type { Book, Check } from '../book/index.ts';
import { type Entry, type EntryKind, lineOfField } from './entry.ts';
import { type Finding, inReadingOrder, type Severity } from './finding.ts';
import { healthyOutsideSpec, phraseFindings, titleFindings } from './lint-texts.ts';
import { cautionsMissingOnCause, cautionsMissingOnCheck } from './missing-cautions.ts';
import type { Shape } from './shapes.ts';
import { Separator, type SymptomView, viewSymptom, type WiringChances } from './tell-apart.ts';

export const leastCauses = 4;
export const leastChecks = 3;
/** A first check takes at most this long, minutes, and no tool. */
export const cheapMinutes = 2;
const cheapKinds: readonly string[] = ['ask', 'look', 'listen', 'feel'];

export interface LintSources {
  /** Where the book was read from, for file, line and the explained findings of the handbook entry. */
  readonly entries?: readonly Entry[];
  /** What the wiring says a check shows, where it knows better than the table. */
  readonly wiring?: WiringChances;
}

export type LintReport = (
  at: { readonly kind: EntryKind; readonly id: string; readonly field?: string },
  code: string,
  message: string,
  severity?: Severity,
  about?: readonly string[],
) => void;

/**
 * Holes in the content of a sound book: what no rule of form catches. Findings that the handbook entry explains come back as
 * notes with the reason. Without `entries` the findings name no file and line.
 */
export function lintBook(book: Book, { entries = [], wiring }: LintSources = {}): Finding[] {
  const findings: Finding[] = [];
  const places = new Map(entries.map((entry) => [`${entry.kind} ${entry.id}`, entry]));
  const report: LintReport = ({ kind, id, field }, code, message, severity = 'warning', about) => {
    const entry = places.get(`${kind} ${id}`);
    const line = entry ? lineOfField(entry, field ?? '') : 0;
    const file = entry?.path ?? '';
    findings.push({
      severity,
      code,
      message,
      file,
      line,
      ...(field ? { field } : {}),
      id,
      ...(about ? { about } : {}),
    });
  };
  const separator = new Separator(book, wiring);
  const views = [...book.symptoms.values()].map((symptom) => viewSymptom(book, symptom, separator));
  for (const view of views) symptomLint(view, report);
  checkLint(book, views, separator, report);
  causeLint(book, separator, report);
  titleFindings(book, report);
  phraseFindings(book, report);
  healthyOutsideSpec(book, report);
  return inReadingOrder(explained(findings, entries));
}

function symptomLint({ symptom, causes, checks, groups }: SymptomView, report: LintReport): void {
  const at = { kind: 'symptom', id: symptom.id } as const;
  if (causes.length < leastCauses) {
    report(
      { ...at, field: 'priors' },
      'few-causes',
      `“${symptom.title}” has ${causes.length} causes; at least ${leastCauses} are expected`,
    );
  }
  if (checks.size < leastChecks) {
    report(
      at,
      'few-checks',
      `“${symptom.title}” has ${checks.size} checks that tell its causes apart; at least ${leastChecks} are expected`,
    );
  }
  if (causes.length > 0 && ![...checks].some(isCheapFirst)) {
    const message = `“${symptom.title}” has no cheap first check: ask, look, listen or feel, at most ${cheapMinutes} minutes, no waiting, that tells two of its causes apart`;
    report(at, 'no-cheap-first-check', message);
  }
  for (const group of groups) {
    const names = group.map((cause) => cause.id);
    const message = `no check tells these causes of “${symptom.title}” apart: ${names.join(', ')}`;
    report({ ...at, field: 'priors' }, 'cannot-tell-apart', message, 'warning', names);
  }
}

const isCheapFirst = (check: Check): boolean =>
  cheapKinds.includes(check.kind) && check.minutes <= cheapMinutes && check.waitMinutes === 0;

function checkLint(
  book: Book,
  views: readonly SymptomView[],
  separator: Separator,
  report: LintReport,
): void {
  const reached = new Set(views.flatMap((view) => [...view.checks]));
  const gates = new Set([...book.preconditions.values()].map((precondition) => precondition.checkId));
  for (const check of book.checks.values()) {
    const at = { kind: 'check', id: check.id } as const;
    if (!separator.meet(check)) {
      report(
        { ...at, field: 'on' },
        'on-no-model',
        `no model of the book can have the check “${check.id}”; see “on”`,
      );
    } else if (!reached.has(check) && !gates.has(check.id)) {
      const message = `the check “${check.id}” tells no two causes of any symptom apart, so it is never offered; see “when”`;
      report({ ...at, field: 'when' }, 'unreachable-check', message);
    }
    for (const view of views) {
      const place = check.symptomIds.indexOf(view.symptom.id);
      if (place >= 0 && !view.checks.has(check))
        report(
          { ...at, field: `symptoms[${place}]` },
          'tells-nothing-there',
          `the check “${check.id}” tells no two causes of “${view.symptom.title}” apart`,
        );
    }
    for (const { because, oneOf } of cautionsMissingOnCheck(book, check)) {
      report({ ...at, field: 'cautions' }, 'missing-caution', `${because} needs ${oneOf.join(' or ')}`);
    }
  }
}

function causeLint(book: Book, separator: Separator, report: LintReport): void {
  const used = new Set(
    [...book.symptoms.values()].flatMap((symptom) => symptom.priors.map((prior) => prior.causeId)),
  );
  for (const cause of book.causes.values()) {
    const at = { kind: 'cause', id: cause.id } as const;
    if (!used.has(cause.id))
      report(at, 'cause-without-symptom', `no symptom lists the cause “${cause.id}” among its priors`);
    if (!separator.meet(cause)) {
      report(
        { ...at, field: 'on' },
        'on-no-model',
        `no model of the book can have the cause “${cause.id}”; see “on”`,
      );
    }
    for (const { because, oneOf } of cautionsMissingOnCause(book, cause)) {
      report({ ...at, field: 'cautions' }, 'missing-caution', `${because} needs ${oneOf.join(' or ')}`);
    }
  }
}

/** Turns explained findings into notes; an explanation that explains nothing is a finding itself. */
function explained(findings: readonly Finding[], entries: readonly Entry[]): Finding[] {
  const result = [...findings];
  for (const entry of entries) {
    if (entry.kind !== 'handbook' || entry.flawed) continue;
    (entry.body as Shape<'handbook'>).explained?.forEach(({ code, id, about, because }, index) => {
      let used = false;
      result.forEach((finding, place) => {
        if (finding.code !== code || finding.id !== id || (about && !sameIds(about, finding.about ?? [])))
          return;
        used = true;
        result[place] = {
          ...finding,
          severity: 'note',
          message: `${finding.message} (explained: ${because})`,
        };
      });
      if (used) return;
      const field = `explained[${index}]`;
      const message = `there is no finding “${code}” for “${id}” any more; remove the explanation`;
      const line = lineOfField(entry, field);
      result.push({
        severity: 'warning',
        code: 'explains-nothing',
        message,
        file: entry.path,
        line,
        field,
        id: entry.id,
      });
    });
  }
  return result;
}

const sameIds = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((id) => other.includes(id));
