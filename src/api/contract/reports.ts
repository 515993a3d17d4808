import { z } from 'zod';
import { instant, limit, line, money, share, slug } from './basics.ts';
import { jobStatus } from './jobs.ts';
import { patternProcedures, recurringBy } from './patterns.ts';
import { procedure } from './procedure.ts';

const period = {
  from: instant.optional(),
  until: instant.optional(),
  days: z.int().min(1).max(36_600).optional(),
};
const shownPeriod = z.strictObject({ from: instant, until: instant });
const remark = z.string().nullable();
const comebackState = z.enum(['in-doubt', 'diagnosis-stands', 'diagnosis-taken-back']);

const repair = z.strictObject({
  jobNumber: z.int(),
  closedAt: instant,
  plate: z.string().nullable(),
  model: z.string(),
  /** The symptom's title, or the customer's words where none was named. */
  concern: z.string(),
  causes: z.array(z.string()),
  proof: z.string().nullable(),
  parts: z.array(z.strictObject({ title: z.string(), supplier: z.string().nullable(), quantity: z.int() })),
  /** The first return that counts. */
  back: z
    .strictObject({ jobNumber: z.int(), days: z.int().nullable(), state: comebackState, why: z.string() })
    .nullable(),
});

const jobsInput = z.strictObject({
  ...period,
  /** A group of `patterns.recurring`, as its `by` and `key` name it. */
  by: z.enum(recurringBy).optional(),
  key: z.string().max(160).optional(),
  modelId: slug.optional(),
  familyId: slug.optional(),
  causeId: slug.optional(),
  componentId: slug.optional(),
  symptomId: slug.optional(),
  partKind: slug.optional(),
  supplier: z.string().trim().min(1).max(80).optional(),
  /** Only repairs that came back, with this decision. */
  back: comebackState.optional(),
  /** Also those whose diagnosis a comeback took back; the counts of recurring faults leave them out. */
  alsoTakenBack: z.boolean().optional(),
  limit: limit.optional(),
});

const takenBackInput = z.strictObject({ ...period, limit: limit.optional() });
const format = z.enum(['csv', 'xlsx']);
const table = <N extends string, I extends z.ZodType>(of: N, input: I) =>
  z.strictObject({ of: z.literal(of), format, input });

/** One edit of the handbook, as `handbook.edit` takes it. */
const edit = z.strictObject({
  kind: z.string(),
  id: z.string().optional(),
  system: z.string().optional(),
  yaml: z.string(),
  ifYaml: z.string().optional(),
});

const advice = z.strictObject({
  adviceId: z.string(),
  /** `prior`: the book's share of a cause is not what the shop proves. `cause`: the book lacks the cause. */
  kind: z.enum(['prior', 'cause']),
  title: z.string(),
  says: z.string(),
  symptomId: slug,
  causeId: z.string(),
  jobNumbers: z.array(z.int()),
  /** Of 100, in the book now and after the change. */
  now: z.number().nullable(),
  becomes: z.number(),
  /** Of the suggestions that are at least as striking, at most this share is chance; null where nothing is tested. */
  falseShare: share.nullable(),
  /** In this order; each is taken back by `handbook.undo`. */
  edits: z.array(edit),
});

export type RepairBehind = z.infer<typeof repair>;
export type Advice = z.infer<typeof advice>;

const quartiles = z.strictObject({ low: z.number(), median: z.number(), high: z.number() }).nullable();
const quotedSums = {
  jobs: z.int(),
  quotedMinutes: z.number(),
  actualMinutes: z.number(),
  /** Of actual over quoted, job by job; null for few. */
  minutesRatio: quartiles,
  moneyRatio: quartiles,
  /** Labor and parts before tax and discounts, by currency. */
  money: z.array(z.strictObject({ jobs: z.int(), quoted: money, actual: money })),
};

export const reportProcedures = {
  'patterns.quoted': procedure({
    kind: 'report',
    does: 'What closed jobs took against what was quoted for them, in minutes and money: in all, by proven cause, and the jobs furthest apart.',
    input: z.strictObject({ ...period }),
    output: z.strictObject({
      period: shownPeriod,
      ...quotedSums,
      /** Jobs with an accepted quote that cannot be compared. */
      left: z.strictObject({ noMinutes: z.int(), severalCurrencies: z.int() }),
      causes: z.array(z.strictObject({ causeId: slug, cause: z.string(), ...quotedSums })),
      furthest: z.array(
        z.strictObject({
          jobNumber: z.int(),
          /** The one proven cause. */
          cause: z.string().nullable(),
          quotedMinutes: z.number(),
          actualMinutes: z.number(),
          quoted: money,
          actual: money,
        }),
      ),
      remark,
    }),
  }),
  'patterns.jobs': procedure({
    kind: 'report',
    does: 'The proven repairs behind a number of a report, newest first.',
    input: jobsInput,
    output: z.strictObject({
      title: z.string(),
      period: shownPeriod,
      /** All of them; `jobs` holds the newest. */
      all: z.int(),
      jobs: z.array(repair),
      remark,
    }),
  }),
  'patterns.takenBack': procedure({
    kind: 'report',
    does: 'Proven causes that a comeback took back, with what it was in the end.',
    input: takenBackInput,
    output: z.strictObject({
      period: shownPeriod,
      all: z.int(),
      rows: z.array(
        z.strictObject({
          jobNumber: z.int(),
          closedAt: instant,
          model: z.string(),
          symptom: z.string(),
          causes: z.array(z.string()),
          laterJobNumber: z.int(),
          days: z.int().nullable(),
          laterCauses: z.array(z.string()),
          why: z.string(),
        }),
      ),
      remark,
    }),
  }),
  'patterns.checks': procedure({
    kind: 'report',
    does: 'Checks of closed concerns that gave the same answer every time, so that they told no causes apart.',
    input: z.strictObject({ ...period }),
    output: z.strictObject({
      period: shownPeriod,
      /** Checks with enough answers to say anything, of all that were done. */
      judged: z.int(),
      done: z.int(),
      rows: z.array(
        z.strictObject({
          checkId: z.string(),
          title: z.string(),
          answer: z.string(),
          times: z.int(),
          /** The book's minutes for all of them together; null where the check left the book. */
          minutes: z.number().nullable(),
        }),
      ),
    }),
  }),
  'patterns.soon': procedure({
    kind: 'report',
    does: 'Parts that the open jobs will likely need: each likely cause by its chance.',
    input: z.strictObject({}),
    output: z.strictObject({
      concerns: z.int(),
      rows: z.array(
        z.strictObject({
          kind: z.string(),
          title: z.string(),
          /** Expected number, by the chances that were last shown. */
          expected: z.number(),
          free: z.int(),
          onOrder: z.int(),
          jobs: z.array(z.strictObject({ number: z.int(), cause: z.string(), chance: share })),
        }),
      ),
    }),
  }),
  'patterns.day': procedure({
    kind: 'report',
    does: 'What else the day waits on: parts awaited and arrived for open jobs, advisories due, safety first.',
    input: z.strictObject({}),
    output: z.strictObject({
      orders: z.array(
        z.strictObject({
          orderId: z.string(),
          title: z.string(),
          partNumber: z.string(),
          supplier: z.string().nullable(),
          quantity: z.int(),
          arrived: z.int(),
          expectedAt: instant.nullable(),
          isLate: z.boolean(),
          jobNumber: z.int(),
          jobStatus,
        }),
      ),
      advisories: z.array(
        z.strictObject({
          advisoryId: z.string(),
          words: z.string(),
          urgency: z.enum(['now', 'soon', 'watch']),
          doNotRide: z.boolean(),
          madeAt: instant,
          jobNumber: z.int(),
          plate: z.string().nullable(),
          model: z.string(),
          customer: z.string().nullable(),
          phone: z.string().nullable(),
        }),
      ),
      advisoryCounts: z.strictObject({ now: z.int(), soon: z.int(), watch: z.int() }),
    }),
  }),
  'patterns.advice': procedure({
    kind: 'report',
    does: 'Suggestions to change the handbook where the shop proves something else, each with the edits that carry it out.',
    input: z.strictObject({ ...period }),
    output: z.strictObject({ advice: z.array(advice), symptoms: z.int(), tested: z.int(), remark }),
  }),
  'patterns.table': procedure({
    kind: 'report',
    does: 'The numbers of a report as a file for a spreadsheet: CSV or XLSX.',
    input: z.discriminatedUnion('of', [
      table('recurring', patternProcedures['patterns.recurring'].input),
      table('months', patternProcedures['patterns.trend'].input),
      table('comebacks', patternProcedures['patterns.comebacks'].input),
      table('holding', patternProcedures['patterns.comebacks'].input),
      table('shelf', patternProcedures['patterns.stock'].input),
      table('calibration', patternProcedures['patterns.accuracy'].input),
      table('minutes', patternProcedures['patterns.accuracy'].input),
      table('lacking', patternProcedures['patterns.accuracy'].input),
      table('quoted', z.strictObject({ ...period })),
      table('jobs', jobsInput),
      table('taken-back', takenBackInput),
    ]),
    output: z.strictObject({
      fileName: z.string(),
      mediaType: z.string(),
      base64: z.string(),
      bytes: z.int(),
      rows: z.int(),
    }),
  }),
  'patterns.monthPaper': procedure({
    kind: 'report',
    does: 'One month on paper as a PDF file: jobs, recurring faults, what rose, what came back, what to buy.',
    input: z.strictObject({
      /** Such as 2026-10; left out, the last whole month. */
      month: line.regex(/^\d{4}-(0[1-9]|1[0-2])$/, 'a year and a month, such as 2026-10').optional(),
      paper: z.enum(['A4', 'Letter']).optional(),
    }),
    output: z.strictObject({ fileName: z.string(), base64: z.string(), bytes: z.int() }),
  }),
} as const;
