import { didYouMean } from './closest-name.ts';
import type { Ids, Report } from './entry-rules.ts';
import { existsOnBoth } from './exists-on-both.ts';
import type { Shape } from './shapes.ts';

const millionths = (value: number): number => Math.round(value * 1e6);
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Rules on a check's outcomes: chances that sum, ranges that cover every number once, causes that can be met. */
export function outcomeRuleFindings(body: Shape<'check'>, ids: Ids, report: Report): void {
  const names = body.outcomes.map((outcome) => outcome.id);
  names.forEach((name, index) => {
    if (names.indexOf(name) < index)
      report(`outcomes[${index}].id`, 'outcome-twice', `the outcome “${name}” is written twice`);
  });
  const total = sum(body.outcomes.map((outcome) => outcome.healthy));
  if (millionths(total) !== 1e6) {
    report(
      'outcomes',
      'healthy-sum',
      `the healthy chances of the outcomes must make 1, got ${millionths(total) / 1e6}`,
    );
  }
  body.outcomes.forEach((outcome, index) => {
    if (outcome.healthy === 0 || outcome.healthy === 1) {
      report(
        `outcomes[${index}].healthy`,
        'certain-outcome',
        `no check is that certain: write 0.01 to 0.99, got ${outcome.healthy}`,
        'warning',
      );
    }
  });
  rangeRules(body, report);
  whenRules(body, names, ids, report);
}

function rangeRules(body: Shape<'check'>, report: Report): void {
  if (!body.quantity) {
    body.outcomes.forEach((outcome, index) => {
      if (outcome.range)
        report(
          `outcomes[${index}].range`,
          'range-without-quantity',
          'a range needs a quantity: the check takes no number',
        );
    });
    return;
  }
  const [low, high] = body.quantity.possible;
  if (low >= high) report('quantity.possible', 'wrong-order', `expected [low, high], got [${low}, ${high}]`);
  const without = body.outcomes.findIndex((outcome) => !outcome.range);
  if (without >= 0) {
    report(
      `outcomes[${without}].range`,
      'missing-field',
      'the check takes a number, so every outcome needs a range [from, to]',
    );
    return;
  }
  // Written from low to high or from high to low.
  const ranges = body.outcomes.map((outcome, index) => ({
    from: outcome.range?.[0] ?? null,
    to: outcome.range?.[1] ?? null,
    index,
  }));
  const first = ranges[0];
  const last = ranges.at(-1);
  const rising = first && last && first.from === null && last.to === null ? ranges : [...ranges].reverse();
  rising.forEach((range, position) => {
    const field = `outcomes[${range.index}].range`;
    const before = rising[position - 1];
    const shown = `[${range.from}, ${range.to}]`;
    if (position === 0 && range.from !== null)
      report(field, 'range-gap', `the lowest range must be open below (null), got ${shown}`);
    if (position === rising.length - 1 && range.to !== null)
      report(field, 'range-gap', `the highest range must be open above (null), got ${shown}`);
    if (range.from !== null && range.to !== null && range.from >= range.to) {
      report(field, 'wrong-order', `a range runs from low to high, got ${shown}`);
    }
    if (!before) return;
    if (before.to === null || range.from === null) {
      report(
        field,
        'range-overlap',
        `only the outermost ranges are open, got ${shown} beside [${before.from}, ${before.to}]; keep them in order`,
      );
    } else if (range.from > before.to) {
      report(field, 'range-gap', `numbers from ${before.to} to ${range.from} belong to no outcome`);
    } else if (range.from < before.to) {
      report(
        field,
        'range-overlap',
        `numbers from ${range.from} to ${before.to} belong to two outcomes, or the outcomes are out of order`,
      );
    }
    if (range.from !== null && (range.from < low || range.from > high)) {
      report(
        field,
        'range-not-possible',
        `the limit ${range.from} is outside the possible ${low} to ${high}`,
        'warning',
      );
    }
  });
}

function whenRules(body: Shape<'check'>, names: readonly string[], ids: Ids, report: Report): void {
  for (const [cause, chances] of Object.entries(body.when ?? {})) {
    const field = `when.${cause}`;
    for (const [outcome, value] of Object.entries(chances)) {
      if (!names.includes(outcome)) {
        const message = `the check has no outcome “${outcome}”${didYouMean(outcome, names)}; it has ${names.join(', ')}`;
        report(`${field}.${outcome}`, 'unknown-outcome', message);
      }
      if (value === 0 || value === 1) {
        report(
          `${field}.${outcome}`,
          'certain-outcome',
          `no check is that certain: write 0.01 to 0.99, got ${value}`,
          'warning',
        );
      }
    }
    const total = millionths(sum(Object.values(chances)));
    if (total > 1e6)
      report(field, 'chances-sum', `the chances must not make more than 1, got ${total / 1e6}`);
    if (names.every((name) => Object.hasOwn(chances, name)) && total < 1e6) {
      report(field, 'chances-sum', `all outcomes are named, so the chances must make 1, got ${total / 1e6}`);
    }
    const entry = ids.get('cause')?.get(cause);
    if (entry && !entry.flawed && !existsOnBoth(body.on ?? {}, (entry.body as Shape<'cause'>).on ?? {})) {
      report(
        field,
        'never-together',
        `the cause “${cause}” and this check exist on no machine in common (see “on” of both)`,
        'warning',
      );
    }
  }
}
