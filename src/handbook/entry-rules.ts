import { didYouMean } from './closest-name.ts';
import { type Entry, type EntryKind, lineOfField, systemFolderOf } from './entry.ts';
import type { Finding, Severity } from './finding.ts';
import { outcomeRuleFindings } from './outcome-rules.ts';
import type { Shape } from './shapes.ts';

export type Ids = ReadonlyMap<EntryKind, ReadonlyMap<string, Entry>>;
export type Report = (field: string, code: string, message: string, severity?: Severity) => void;

const withSystem: readonly EntryKind[] = ['symptom', 'cause', 'check', 'component'];
/** Sums are compared in millionths: decimals such as 0.1 + 0.2 have no exact binary form. */
const millionths = (value: number): number => Math.round(value * 1e6);

/** What the form alone cannot say: sums, order of limits, names inside other entries. For entries of sound form. */
export function ruleFindings(entry: Entry, ids: Ids): Finding[] {
  const findings: Finding[] = [];
  const report: Report = (field, code, message, severity = 'error') => {
    const line = lineOfField(entry, field);
    findings.push({
      severity,
      code,
      message,
      file: entry.path,
      line,
      ...(field ? { field } : {}),
      id: entry.id,
    });
  };
  if (
    withSystem.includes(entry.kind) &&
    entry.body.system === undefined &&
    systemFolderOf(entry.path) === undefined
  ) {
    report(
      'system',
      'missing-field',
      'the field “system” is missing; only files in systems/<system>/ can leave it out',
    );
  }
  switch (entry.kind) {
    case 'symptom':
      symptomRules(entry.body as Shape<'symptom'>, entry.id, report);
      break;
    case 'check':
      outcomeRuleFindings(entry.body as Shape<'check'>, ids, report);
      break;
    case 'spec':
      specRules(entry.body as Shape<'spec'>, report);
      break;
    case 'precondition':
      preconditionRules(entry.body as Shape<'precondition'>, ids, report);
      break;
    case 'model': {
      const [from, to] = (entry.body as Shape<'model'>).years;
      if (from > to)
        report('years', 'wrong-order', `the first year must not be after the last, got ${from} to ${to}`);
      break;
    }
    default:
      break;
  }
  return findings;
}

function symptomRules(body: Shape<'symptom'>, id: string, report: Report): void {
  const listed = body.priors.reduce((sum, prior) => sum + prior.of_100, 0);
  const total = millionths(listed + body.unlisted_of_100);
  if (total !== millionths(100)) {
    report(
      'priors',
      'priors-sum',
      `the priors (${round(listed)}) and unlisted_of_100 (${body.unlisted_of_100}) must make 100, got ${round(total / 1e6)}`,
    );
  }
  const seen = new Set<string>();
  body.priors.forEach((prior, index) => {
    if (seen.has(prior.cause))
      report(`priors[${index}].cause`, 'cause-twice', `the cause “${prior.cause}” is listed twice`);
    seen.add(prior.cause);
  });
  if (body.related?.includes(id))
    report('related', 'related-itself', 'a symptom is not related to itself', 'warning');
}

const round = (value: number): number => millionths(value) / 1e6;

function specRules(body: Shape<'spec'>, report: Report): void {
  const low = body.low ?? null;
  const high = body.high ?? null;
  if (low === null && high === null)
    report('low', 'missing-field', 'a spec needs a low limit, a high limit, or both');
  if (low !== null && high !== null && low > high) {
    report(
      'low',
      'wrong-order',
      `the low limit must not be above the high one, got ${low} to ${high} ${body.unit}`,
    );
  }
  if (body.basis === 'demo' && (body.models ?? []).length === 0) {
    report('models', 'demo-value-for-all', 'a demo value must name the invented models it is for', 'warning');
  }
}

function preconditionRules(body: Shape<'precondition'>, ids: Ids, report: Report): void {
  const check = ids.get('check')?.get(body.check);
  if (!check || check.flawed) return;
  const outcomes = (check.body as Shape<'check'>).outcomes.map((outcome) => outcome.id);
  body.met_by.forEach((outcome, index) => {
    if (outcomes.includes(outcome)) return;
    const message = `the check “${body.check}” has no outcome “${outcome}”${didYouMean(outcome, outcomes)}; it has ${outcomes.join(', ')}`;
    report(`met_by[${index}]`, 'unknown-outcome', message);
  });
}
