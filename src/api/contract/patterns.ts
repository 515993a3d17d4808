import { z } from 'zod';
import { instant, limit, money, share, slug } from './basics.ts';
import { procedure } from './procedure.ts';

/** Which stretch of the ledger: from–until, or so many days up to now. */
const period = {
  from: instant.optional(),
  until: instant.optional(),
  days: z.int().min(1).max(36_600).optional(),
};

const stretch = z.strictObject({
  from: instant,
  until: instant,
  /** Visits with at least one closed concern. */
  visits: z.int(),
});

const counted = z.strictObject({ concerns: z.int(), visits: z.int() });

/** Per 100 visits (or vehicles) with exact 95 % limits; null where the numbers are too small for a rate. */
const rate = z.strictObject({ per100: z.number(), low: z.number(), high: z.number() }).nullable();

const change = z.strictObject({
  /** Rate now over rate before; null where there was none before. */
  ratio: z.number().nullable(),
  low: z.number(),
  /** Null where it is open. */
  high: z.number().nullable(),
  /** Chance of such a difference if nothing had changed. */
  p: share,
  /** Of the groups that are at least as striking, at most this share is chance. */
  falseShare: share,
});

export const recurringBy = [
  'cause',
  'component',
  'system',
  'symptom',
  'model',
  'family',
  'engine-type',
  'model-year',
  'age',
  'mileage',
  'technician',
  'part-kind',
  'supplier',
] as const;

const recurringGroup = z.strictObject({
  key: z.string(),
  title: z.string(),
  ...counted.shape,
  rate,
  /** Vehicles in care that the group is counted against, and concerns per 100 of them; null where they are not counted. */
  vehicles: z.int().nullable(),
  rateInCare: rate,
  before: counted.nullable(),
  rateBefore: rate,
  share,
  /** With all groups before it: the Pareto line. */
  cumulative: share,
  /** Null where nothing is compared. */
  change: change.nullable(),
});

/** What rose: its numbers, when, what was fitted, which cards. */
const rise = z.strictObject({
  causeId: slug.nullable(),
  cause: z.string(),
  component: z.string().nullable(),
  modelId: z.string().nullable(),
  /** Null where it rose on all models together. */
  model: z.string().nullable(),
  now: counted,
  before: counted,
  change,
  /** Months that stand out most, as 2026-08; an estimate. */
  months: z.strictObject({ from: z.string(), until: z.string(), concerns: z.int() }).nullable(),
  /** What was fitted at these closings, by kind and supplier. */
  parts: z.array(z.strictObject({ title: z.string(), supplier: z.string().nullable(), fitted: z.int() })),
  jobNumbers: z.array(z.int()),
  says: z.string(),
});

const comebackGroup = z.strictObject({
  ids: z.array(z.string()),
  title: z.string(),
  repairs: z.int(),
  /** The first diagnosis stands: part or work did not hold. */
  didNotHold: z.int(),
  wrongDiagnosis: z.int(),
  inDoubt: z.int(),
  /** Null with too few repairs for a share. */
  rate: z.strictObject({ share, low: share, high: share }).nullable(),
  rest: z.strictObject({ repairs: z.int(), didNotHold: z.int() }),
  p: share,
  falseShare: share,
  says: z.string(),
});

const shelfRow = z.strictObject({
  kind: z.string(),
  title: z.string(),
  usedInYear: z.int(),
  perMonth: z.number(),
  demand: z.enum(['poisson', 'negative-binomial']),
  onHand: z.int(),
  reserved: z.int(),
  onOrder: z.int(),
  reorderAt: z.int(),
  order: z.int(),
  /** By the book's typical price; null where it has none. */
  cost: money.nullable(),
  neverMoves: z.boolean(),
  says: z.string(),
});

const survivalStep = z.strictObject({
  days: z.number(),
  atRisk: z.int(),
  events: z.int(),
  lasts: share,
  error: z.number().nullable(),
});

const held = z.strictObject({ held: z.int(), of: z.int(), share, low: share, high: share });

const against = z.enum(['before', 'year-before', 'everything-before', 'none']);
/** What a person should know before reading the numbers; null when there is nothing to say. */
const remark = z.string().nullable();

export type RecurringBy = (typeof recurringBy)[number];
export type RecurringGroup = z.infer<typeof recurringGroup>;
export type RiseView = z.infer<typeof rise>;
export type ComebackGroupView = z.infer<typeof comebackGroup>;
export type ShelfRow = z.infer<typeof shelfRow>;
export type CurveStep = z.infer<typeof survivalStep>;

export const patternProcedures = {
  'patterns.overview': procedure({
    kind: 'report',
    does: 'What changed, what came back, what to buy, in one answer.',
    input: z.strictObject({ days: z.int().min(7).max(3660).optional() }),
    output: z.strictObject({
      period: stretch,
      before: stretch,
      changed: z.array(rise),
      /** How many pairs of model and cause were looked at, and how many could show anything. */
      asked: z.int(),
      tested: z.int(),
      cameBack: z.strictObject({
        period: z.strictObject({ from: instant, until: instant }),
        repairs: z.int(),
        didNotHold: z.int(),
        wrongDiagnosis: z.int(),
        inDoubt: z.int(),
        groups: z.array(comebackGroup),
      }),
      buy: z.array(shelfRow),
      /** Most frequent causes of the period. */
      top: z.array(recurringGroup),
      remark,
    }),
  }),
  'patterns.recurring': procedure({
    kind: 'report',
    does: 'Proven concerns by cause, component, model, age … in a period and one to compare, with rates and Pareto line.',
    input: z.strictObject({
      by: z.enum(recurringBy),
      ...period,
      against: against.optional(),
      modelId: slug.optional(),
      familyId: slug.optional(),
      causeId: slug.optional(),
      componentId: slug.optional(),
      symptomId: slug.optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({
      by: z.enum(recurringBy),
      /** Vehicles in care: with at least one concern closed in the period. */
      period: stretch.extend({ vehicles: z.int() }),
      before: stretch.nullable(),
      /** From the most to the fewest concerns; technicians by name, without a comparison: people are never ranked. */
      groups: z.array(recurringGroup),
      /** Groups beyond the limit, summed. */
      left: z.strictObject({ groups: z.int(), concerns: z.int() }),
      /** What a rate is counted against. */
      per: z.string(),
      remark,
    }),
  }),
  'patterns.trend': procedure({
    kind: 'report',
    does: 'Proven concerns month by month with chart limits where the numbers allow, and the trend.',
    input: z.strictObject({
      months: z.int().min(2).max(240).optional(),
      modelId: slug.optional(),
      familyId: slug.optional(),
      causeId: slug.optional(),
      componentId: slug.optional(),
    }),
    output: z.strictObject({
      title: z.string(),
      months: z.array(
        z.strictObject({
          month: z.string(),
          /** The month is not over, or began before the first job: it is left out of center and limits. */
          isPartial: z.boolean(),
          concerns: z.int(),
          visits: z.int(),
          per100: z.number().nullable(),
          low: z.number().nullable(),
          high: z.number().nullable(),
          isOut: z.boolean(),
        }),
      ),
      /** The same months of all these years together, January to December; whole months only. */
      year: z.array(
        z.strictObject({
          month: z.int().min(1).max(12),
          concerns: z.int(),
          visits: z.int(),
          per100: z.number().nullable(),
        }),
      ),
      /** Per 100 visits. */
      center: z.number().nullable(),
      hasLimits: z.boolean(),
      /** Closings in time; z above 0 means ever closer together. Null with fewer than 3. */
      laplace: z.strictObject({ z: z.number(), p: share }).nullable(),
      powerLaw: z.strictObject({ shape: z.number(), p: share }).nullable(),
      /** The newer half against the older half of the months. */
      halves: z.strictObject({ newer: counted, older: counted, change }).nullable(),
      says: z.string(),
      remark,
    }),
  }),
  'patterns.comebacks': procedure({
    kind: 'report',
    does: 'Repairs that did not hold, by cause, kind of part or supplier, and how long repairs hold.',
    input: z.strictObject({
      by: z.enum(['cause', 'part-kind', 'supplier', 'part-kind-and-supplier']).optional(),
      ...period,
      /** Draws the curve of these repairs beside that of the same kind of part, or of all, from others. */
      partKind: slug.optional(),
      supplier: z.string().trim().min(1).max(80).optional(),
      causeId: slug.optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({
      by: z.enum(['cause', 'part-kind', 'supplier', 'part-kind-and-supplier']),
      period: z.strictObject({ from: instant, until: instant }),
      windowDays: z.int(),
      repairs: z.int(),
      didNotHold: z.int(),
      wrongDiagnosis: z.int(),
      inDoubt: z.int(),
      groups: z.array(comebackGroup),
      curves: z.strictObject({
        title: z.string(),
        restTitle: z.string().nullable(),
        chosen: z.array(survivalStep),
        chosenRepairs: z.int(),
        rest: z.array(survivalStep),
        restRepairs: z.int(),
        /** Log-rank test of the two. */
        compared: z
          .strictObject({ statistic: z.number(), p: share, seen: z.number(), expected: z.number() })
          .nullable(),
      }),
      remark,
    }),
  }),
  'patterns.stock': procedure({
    kind: 'report',
    does: 'What to keep on the shelf and what to order now, by kind of part, from what the closed jobs used.',
    input: z.strictObject({
      /** Wanted chance of having it while an order is on its way. */
      service: z.number().min(0.5).max(0.999).optional(),
      /** From order to arrival; left out, the middle of what was noted, else 7. */
      leadDays: z.int().min(1).max(365).optional(),
      coverDays: z.int().min(1).max(365).optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({
      service: z.number(),
      leadDays: z.number(),
      leadFrom: z.enum(['asked', 'orders', 'assumed']),
      coverDays: z.int(),
      rows: z.array(shelfRow),
      /** Of everything that should be ordered; null where a price is missing. */
      cost: money.nullable(),
      remark,
    }),
  }),
  'patterns.accuracy': procedure({
    kind: 'report',
    does: 'Is the book right: first and first three held, calibration, log score, minutes, causes the book lacks.',
    input: z.strictObject({ ...period }),
    output: z.strictObject({
      period: z.strictObject({ from: instant, until: instant }),
      rankings: z.int(),
      first: held,
      firstThree: held,
      bins: z.array(
        z.strictObject({
          from: share,
          to: share,
          shown: z.int(),
          held: z.int(),
          meanChance: share,
          share,
          low: share,
          high: share,
        }),
      ),
      score: z
        .strictObject({
          rankings: z.int(),
          since: instant,
          /** Mean surprise in natural logarithms; less is better. */
          shown: z.number(),
          frequency: z.number(),
        })
        .nullable(),
      minutes: z.strictObject({
        concerns: z.int(),
        planned: z.number(),
        actual: z.number(),
        causes: z.array(
          z.strictObject({
            causeId: slug,
            cause: z.string(),
            concerns: z.int(),
            /** Mean minutes. */
            planned: z.number(),
            actual: z.number(),
          }),
        ),
      }),
      lacking: z.array(z.strictObject({ words: z.string(), times: z.int(), jobNumbers: z.array(z.int()) })),
      remark,
    }),
  }),
} as const;
