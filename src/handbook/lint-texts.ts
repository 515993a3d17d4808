import type { Book } from '../book/index.ts';
import type { EntryKind } from './entry.ts';
import type { LintReport } from './lint-book.ts';

/** Two things of one kind under one title: a person could not tell which is meant. */
export function titleFindings(book: Book, report: LintReport): void {
  const lists: readonly [EntryKind, Iterable<{ readonly id: string; readonly title: string }>][] = [
    ['symptom', book.symptoms.values()],
    ['cause', book.causes.values()],
    ['check', book.checks.values()],
    ['component', book.components.values()],
    ['part-kind', book.partKinds.values()],
    ['precondition', book.preconditions.values()],
  ];
  for (const [kind, things] of lists) twice(kind, things, report);
  // Specs of one component may share a title where conditions or models differ.
  const specs = [...book.specs.values()].map((spec) => ({
    id: spec.id,
    title: spec.title,
    more: [spec.quantity, spec.conditions, JSON.stringify(spec.on), ...spec.modelIds].join(' '),
  }));
  twice('spec', specs, report);
}

function twice(
  kind: EntryKind,
  things: Iterable<{ readonly id: string; readonly title: string; readonly more?: string }>,
  report: LintReport,
): void {
  const first = new Map<string, string>();
  for (const { id, title, more = '' } of things) {
    const key = `${title.trim().toLowerCase()} ${more}`;
    const other = first.get(key);
    if (other === undefined) first.set(key, id);
    else
      report(
        { kind, id, field: 'title' },
        'duplicate-title',
        `“${title}” is also the title of “${other}”`,
        'warning',
        [other],
      );
  }
}

/** A rider's text that stands under two symptoms, or a symptom without any. */
export function phraseFindings(book: Book, report: LintReport): void {
  const first = new Map<string, string>();
  for (const symptom of book.symptoms.values()) {
    const phrases = book.phrases.get(symptom.id) ?? [];
    if (phrases.length === 0) {
      report(
        { kind: 'symptom', id: symptom.id },
        'no-phrases',
        `“${symptom.title}” has no phrases; riders' words will not find it`,
      );
    }
    for (const phrase of phrases) {
      const key = phrase.trim().toLowerCase();
      const other = first.get(key);
      if (other === undefined) first.set(key, symptom.id);
      else if (other !== symptom.id) {
        const message = `the phrase “${phrase}” also stands under “${other}”`;
        report({ kind: 'symptom', id: symptom.id }, 'phrase-twice', message, 'warning', [other]);
      }
    }
  }
}

/** A check whose healthiest outcome lies outside of the spec it refers to, or counts in another unit. */
export function healthyOutsideSpec(book: Book, report: LintReport): void {
  for (const check of book.checks.values()) {
    const spec = check.specId === null ? undefined : book.specs.get(check.specId);
    if (!spec || !check.quantity) continue;
    const at = { kind: 'check', id: check.id } as const;
    if (spec.unit !== check.quantity.unit) {
      const message = `the check reads ${check.quantity.unit}, its spec “${spec.id}” is in ${spec.unit}`;
      report({ ...at, field: 'quantity.unit' }, 'unit-differs-from-spec', message);
      continue;
    }
    const healthiest = check.outcomes.reduce((best, outcome) =>
      outcome.healthy > best.healthy ? outcome : best,
    );
    const { low, high } = healthiest.range ?? { low: null, high: null };
    const below = high !== null && spec.low !== null && high <= spec.low;
    const above = low !== null && spec.high !== null && low > spec.high;
    if (below || above) {
      const index = check.outcomes.indexOf(healthiest);
      const message = `the likeliest healthy outcome “${healthiest.id}” lies outside of the spec “${spec.id}” (${spec.low ?? 'open'} to ${spec.high ?? 'open'} ${spec.unit})`;
      report({ ...at, field: `outcomes[${index}].range` }, 'healthy-outside-spec', message);
    }
  }
}
