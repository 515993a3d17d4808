import { type FileCell, type FileTable, tableCsv, tableXlsx } from '../paper/index.ts';
import type { OutputOf, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { toIso } from './instants.ts';
import { quotedTable } from './pattern-quoted.ts';

type Asked = ParsedInputOf<'patterns.table'>;
/** The reports that a file is made of. */
type Reports = Pick<
  Group<'patterns.'>,
  | 'patterns.recurring'
  | 'patterns.trend'
  | 'patterns.comebacks'
  | 'patterns.stock'
  | 'patterns.accuracy'
  | 'patterns.jobs'
  | 'patterns.takenBack'
  | 'patterns.quoted'
>;

const most = 500;
const day = (iso: string): string => iso.slice(0, 10);
const text = (title: string) => ({ title, kind: 'text' }) as const;
const number = (title: string) => ({ title, kind: 'number' }) as const;
/** Four figures after the point say more than any of these numbers knows. */
const rounded = (value: number | null | undefined): FileCell =>
  value === null || value === undefined ? null : Math.round(value * 10_000) / 10_000;
const list = (values: readonly (string | number)[]): string => values.join('; ');
const from = (period: { from: string; until: string }): string =>
  `Jobs closed from ${day(period.from)} to ${day(period.until)}.`;
const and = (remark: string | null): string[] => (remark === null ? [] : [remark]);

function recurringTable(data: OutputOf<'patterns.recurring'>): FileTable {
  return {
    title: `Concerns by ${data.by}`,
    notes: [
      from(data.period),
      `${data.period.visits} visits of ${data.period.vehicles} vehicles in care; rates are per 100 of ${data.per}, with exact 95 % limits, and stand only where the numbers allow one.`,
      data.before
        ? `Before: ${day(data.before.from)} to ${day(data.before.until)}, ${data.before.visits} visits.`
        : 'Compared with nothing.',
      'False share: of the changes that are at least as striking, at most this share is chance.',
      ...and(data.remark),
    ],
    columns: [
      text('Group'),
      text('Key'),
      number('Concerns'),
      number('Visits'),
      number('Per 100 visits'),
      number('Low'),
      number('High'),
      number('Vehicles in care'),
      number('Per 100 vehicles'),
      number('Low per 100 vehicles'),
      number('High per 100 vehicles'),
      number('Share'),
      number('Cumulative'),
      number('Concerns before'),
      number('Visits before'),
      number('Ratio'),
      number('False share'),
    ],
    rows: data.groups.map((group) => [
      group.title,
      group.key,
      group.concerns,
      group.visits,
      rounded(group.rate?.per100),
      rounded(group.rate?.low),
      rounded(group.rate?.high),
      group.vehicles,
      rounded(group.rateInCare?.per100),
      rounded(group.rateInCare?.low),
      rounded(group.rateInCare?.high),
      rounded(group.share),
      rounded(group.cumulative),
      group.before?.concerns ?? null,
      group.before?.visits ?? null,
      rounded(group.change?.ratio),
      rounded(group.change?.falseShare),
    ]),
  };
}

function monthsTable(data: OutputOf<'patterns.trend'>): FileTable {
  return {
    title: `${data.title}, month by month`,
    notes: [
      data.says,
      `Center: ${data.center === null ? 'none' : rounded(data.center)} per 100 visits.`,
      ...and(data.remark),
    ],
    columns: [
      text('Month'),
      number('Concerns'),
      number('Visits'),
      number('Per 100 visits'),
      number('Low limit'),
      number('High limit'),
      text('Remark'),
    ],
    rows: data.months.map((month) => [
      month.month,
      month.concerns,
      month.visits,
      rounded(month.per100),
      rounded(month.low),
      rounded(month.high),
      list([
        ...(month.isPartial ? ['not a whole month'] : []),
        ...(month.isOut ? ['outside the limits'] : []),
      ]),
    ]),
  };
}

function comebacksTable(data: OutputOf<'patterns.comebacks'>): FileTable {
  return {
    title: 'Repairs that did not hold',
    notes: [
      from(data.period),
      `${data.repairs} proven repairs: ${data.didNotHold} did not hold, ${data.wrongDiagnosis} had another cause, ${data.inDoubt} in doubt. A return counts within ${data.windowDays} days.`,
      ...and(data.remark),
    ],
    columns: [
      text('Repairs of'),
      number('Repairs'),
      number('Did not hold'),
      number('Share'),
      number('Low'),
      number('High'),
      number('Other repairs'),
      number('Others did not hold'),
      number('Another cause'),
      number('In doubt'),
      number('False share'),
    ],
    rows: data.groups.map((group) => [
      group.title,
      group.repairs,
      group.didNotHold,
      rounded(group.rate?.share),
      rounded(group.rate?.low),
      rounded(group.rate?.high),
      group.rest.repairs,
      group.rest.didNotHold,
      group.wrongDiagnosis,
      group.inDoubt,
      rounded(group.falseShare),
    ]),
  };
}

function holdingTable({ curves, period, windowDays }: OutputOf<'patterns.comebacks'>): FileTable {
  const steps = [
    ...curves.chosen.map((step) => ({ ...step, of: curves.title })),
    ...curves.rest.map((step) => ({ ...step, of: curves.restTitle ?? '' })),
  ];
  return {
    title: 'How long repairs hold',
    notes: [
      from(period),
      `Kaplan–Meier; a repair that is not yet ${windowDays} days old counts as long as it was in sight.`,
      curves.compared ? `Log-rank test: p = ${rounded(curves.compared.p)}.` : 'Not compared.',
    ],
    columns: [
      text('Repairs'),
      number('Days'),
      number('In sight'),
      number('Came back'),
      number('Share that still holds'),
      number('Standard error'),
    ],
    rows: steps.map((step) => [
      step.of,
      rounded(step.days),
      step.atRisk,
      step.events,
      rounded(step.lasts),
      rounded(step.error),
    ]),
  };
}

function shelfTable(data: OutputOf<'patterns.stock'>): FileTable {
  return {
    title: 'What to keep on the shelf',
    notes: [
      `To have it in ${rounded(data.service * 100)} of 100 cases; ${data.leadDays} days until an order comes, which lasts ${data.coverDays} days more. Cost in minor units of the currency, at the typical prices of the book.`,
      ...and(data.remark),
    ],
    columns: [
      text('Kind of part'),
      number('Order now'),
      number('Order at'),
      number('On hand'),
      number('Reserved'),
      number('On order'),
      number('Used in a year'),
      number('Per month'),
      number('Cost of the order'),
      text('Currency'),
    ],
    rows: data.rows.map((row) => [
      row.title,
      row.order,
      row.reorderAt,
      row.onHand,
      row.reserved,
      row.onOrder,
      row.usedInYear,
      rounded(row.perMonth),
      row.order > 0 ? (row.cost?.amount ?? null) : null,
      row.order > 0 ? (row.cost?.currency ?? null) : null,
    ]),
  };
}

function accuracyTable(
  data: OutputOf<'patterns.accuracy'>,
  of: 'calibration' | 'minutes' | 'lacking',
): FileTable {
  const notes = [from(data.period), ...and(data.remark)];
  if (of === 'calibration')
    return {
      title: 'Does a chance mean what it says',
      notes: [`${data.rankings} rankings.`, ...notes],
      columns: [
        number('Chance from'),
        number('Chance to'),
        number('Causes shown'),
        number('Held'),
        number('Mean chance'),
        number('Share that held'),
        number('Low'),
        number('High'),
      ],
      rows: data.bins.map((bin) => [
        rounded(bin.from),
        rounded(bin.to),
        bin.shown,
        bin.held,
        rounded(bin.meanChance),
        rounded(bin.share),
        rounded(bin.low),
        rounded(bin.high),
      ]),
    };
  if (of === 'minutes')
    return {
      title: 'Planned and actual minutes',
      notes: ['Mean minutes a job, of jobs with one proven cause.', ...notes],
      columns: [text('Cause'), text('Key'), number('Jobs'), number('Planned'), number('Actual')],
      rows: data.minutes.causes.map((row) => [
        row.cause,
        row.causeId,
        row.concerns,
        rounded(row.planned),
        rounded(row.actual),
      ]),
    };
  return {
    title: 'Proven here but not in the book',
    notes,
    columns: [text('Cause in words'), number('Times'), text('Jobs')],
    rows: data.lacking.map((row) => [row.words, row.times, list(row.jobNumbers)]),
  };
}

const backWords = {
  'diagnosis-stands': 'did not hold',
  'diagnosis-taken-back': 'had another cause',
  'in-doubt': 'in doubt',
} as const;

function jobsTable(data: OutputOf<'patterns.jobs'>): FileTable {
  return {
    title: data.title,
    notes: [from(data.period), `The newest ${data.jobs.length} of ${data.all}.`, ...and(data.remark)],
    columns: [
      number('Job'),
      text('Closed'),
      text('Plate'),
      text('Model'),
      text('Concern'),
      text('Causes'),
      text('Proof'),
      text('Parts'),
      number('Came back as job'),
      number('After days'),
      text('Decided'),
    ],
    rows: data.jobs.map((job) => [
      job.jobNumber,
      day(job.closedAt),
      job.plate,
      job.model,
      job.concern,
      list(job.causes),
      job.proof,
      list(
        job.parts.map(
          (part) => `${part.quantity} × ${part.title}${part.supplier ? ` from ${part.supplier}` : ''}`,
        ),
      ),
      job.back?.jobNumber ?? null,
      job.back?.days ?? null,
      job.back ? backWords[job.back.state] : null,
    ]),
  };
}

function takenBackTable(data: OutputOf<'patterns.takenBack'>): FileTable {
  return {
    title: 'Proven causes later taken back',
    notes: [from(data.period), `The newest ${data.rows.length} of ${data.all}.`, ...and(data.remark)],
    columns: [
      number('Job'),
      text('Closed'),
      text('Model'),
      text('Symptom'),
      text('Proven then'),
      number('Came back as job'),
      number('After days'),
      text('Proven later'),
      text('Why'),
    ],
    rows: data.rows.map((row) => [
      row.jobNumber,
      day(row.closedAt),
      row.model,
      row.symptom,
      list(row.causes),
      row.laterJobNumber,
      row.days,
      list(row.laterCauses),
      row.why,
    ]),
  };
}

function tableOf(reports: Reports, desk: Desk, asked: Asked): Promise<FileTable> {
  switch (asked.of) {
    case 'recurring':
      return reports['patterns.recurring'](desk, { ...asked.input, limit: most }).then(recurringTable);
    case 'months':
      return reports['patterns.trend'](desk, asked.input).then(monthsTable);
    case 'comebacks':
      return reports['patterns.comebacks'](desk, { ...asked.input, limit: most }).then(comebacksTable);
    case 'holding':
      return reports['patterns.comebacks'](desk, asked.input).then(holdingTable);
    case 'shelf':
      return reports['patterns.stock'](desk, { ...asked.input, limit: most }).then(shelfTable);
    case 'jobs':
      return reports['patterns.jobs'](desk, { ...asked.input, limit: most }).then(jobsTable);
    case 'taken-back':
      return reports['patterns.takenBack'](desk, { ...asked.input, limit: most }).then(takenBackTable);
    case 'quoted':
      return reports['patterns.quoted'](desk, asked.input).then(quotedTable);
    default: {
      const { of } = asked;
      return reports['patterns.accuracy'](desk, asked.input).then((data) => accuracyTable(data, of));
    }
  }
}

const mediaTypes = {
  csv: 'text/csv;charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
} as const;

/** A report as a file, with numbers as numbers; up to 500 rows. */
export async function tableFile(
  reports: Reports,
  desk: Desk,
  asked: Asked,
): Promise<OutputOf<'patterns.table'>> {
  const table = await tableOf(reports, desk, asked);
  const bytes =
    asked.format === 'csv' ? Buffer.from(tableCsv(table), 'utf8') : Buffer.from(await tableXlsx(table));
  const now = desk.now();
  return {
    fileName: `${asked.of}-${day(toIso(now.ms, now.offset))}.${asked.format}`,
    mediaType: mediaTypes[asked.format],
    base64: bytes.toString('base64'),
    bytes: bytes.length,
    rows: table.rows.length,
  };
}
