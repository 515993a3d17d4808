import { z } from 'zod';
import { caution, limit, share, slug } from './basics.ts';
import { procedure } from './procedure.ts';
import { circuitInstrument, readingsList } from './readings.ts';

const counts = z.strictObject({ model: z.int(), family: z.int(), all: z.int() });

export const symptomMatch = z.strictObject({
  symptomId: slug,
  title: z.string(),
  system: z.string(),
  score: share,
  /** In words, why this symptom. */
  why: z.string(),
  /** The words of the text that count for it, as they were typed. */
  words: z.array(z.string()),
});

export const rankedCause = z.strictObject({
  causeId: slug,
  title: z.string(),
  component: z.string(),
  probability: share,
  /** 90 % interval. */
  low: share,
  high: share,
  /** Whole concerns that proved it. */
  confirmed: counts,
  of: counts,
  minutes: z.number(),
  repair: z.string(),
  shows: z.string(),
  doNotRide: z.boolean(),
});

export const contradiction = z.strictObject({
  why: z.string(),
  /** The reading most worth repeating: index in the readings given. */
  repeat: z.int().nullable(),
  repeatTitle: z.string().nullable(),
});

export const ranking = z.strictObject({
  causes: z.array(rankedCause),
  unlisted: share,
  /** Two causes together, tried when no single one explains the readings. */
  pairs: z
    .array(z.strictObject({ causeIds: z.array(slug), title: z.string(), probability: share }))
    .optional(),
  contradiction: contradiction.optional(),
  /** Closed without a proven cause; they count apart. */
  apart: z.strictObject({ notReproduced: z.int(), normal: z.int(), handling: z.int() }),
  /** "from the book, 0 of our jobs" or how many jobs speak. */
  from: z.string(),
  bookVersion: z.string(),
});

const checkOutcome = z.strictObject({
  outcome: slug,
  title: z.string(),
  means: z.string(),
  /** Chance of this answer by what is known now. */
  chance: share,
  /** For numbers, in the unit of the check. */
  low: z.number().nullable().optional(),
  high: z.number().nullable().optional(),
});

export const checkView = z.strictObject({
  checkId: slug,
  title: z.string(),
  kind: z.enum(['ask', 'look', 'listen', 'feel', 'probe', 'measure']),
  instrument: z.string(),
  phone: z.boolean(),
  /** What is still to do: touch time less what is already apart. */
  minutes: z.number(),
  waitMinutes: z.number(),
  why: z.string(),
  place: z.string(),
  access: z.array(z.string()),
  controls: z.record(z.string(), z.string()),
  steps: z.array(z.string()),
  healthy: z.string(),
  unit: z.string().nullable(),
  cautions: z.array(caution),
  outcomes: z.array(checkOutcome),
  basis: z.string(),
  specId: slug.nullable(),
  probe: z
    .strictObject({
      circuitId: slug,
      instrument: circuitInstrument,
      controls: z.record(z.string(), z.string()),
      unplugged: z.array(z.string()),
      removed: z.array(z.string()),
    })
    .optional(),
  /** Per suspect, what this machine would show, in words with units. */
  expected: z.array(z.strictObject({ causeId: slug, title: z.string(), shows: z.string() })).optional(),
});

export const precondition = z.strictObject({
  id: slug,
  title: z.string(),
  because: z.string(),
  checkId: slug,
  otherwise: z.string(),
  elapsedMinutes: z.number(),
});

export const plan = z.strictObject({
  checks: z.array(checkView),
  /** What must be so before the checks mean anything; do this first. */
  first: precondition.optional(),
  /** Set where repairing now is better than any further check. */
  conclude: z.strictObject({ causeId: slug, title: z.string(), why: z.string() }).optional(),
  expectedMinutes: z.number(),
});

const forSymptom = {
  symptomId: slug,
  modelId: slug.optional(),
  readings: readingsList.optional(),
};

export type SymptomMatch = z.infer<typeof symptomMatch>;
export type Ranking = z.infer<typeof ranking>;
export type RankedCause = z.infer<typeof rankedCause>;
export type CheckView = z.infer<typeof checkView>;
export type Plan = z.infer<typeof plan>;

export const diagnosisProcedures = {
  'symptoms.find': procedure({
    kind: 'read',
    does: 'Turns a complaint in plain words into the symptoms of the book, best first; empty when nothing fits.',
    input: z.strictObject({
      text: z.string().max(10_000),
      modelId: slug.optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({
      matches: z.array(symptomMatch),
      /** Set where the text is no scooter fault, or about an electric-drive scooter. */
      outOfScope: z
        .strictObject({ kind: z.enum(['not-a-fault', 'electric-drive']), say: z.string() })
        .optional(),
      /** The one question that separates the symptoms which compete. */
      question: z
        .strictObject({
          ask: z.string(),
          answers: z.array(z.strictObject({ say: z.string(), symptomId: slug })),
        })
        .optional(),
      /** Values with units that were read in the text. */
      readings: z.array(z.strictObject({ text: z.string(), value: z.number(), unit: z.string() })).optional(),
    }),
  }),
  'symptoms.list': procedure({
    kind: 'read',
    does: 'Lists the symptoms of the book.',
    input: z.strictObject({}),
    output: z.strictObject({
      symptoms: z.array(
        z.strictObject({ symptomId: slug, system: z.string(), title: z.string(), meaning: z.string() }),
      ),
    }),
  }),
  'symptoms.learn': procedure({
    kind: 'write',
    does: "Gives a customer's words to the symptom a person picked; undone in the Handbook.",
    input: z.strictObject({ text: z.string().trim().min(1).max(4000), symptomId: slug }),
    output: z.strictObject({ phraseId: z.string() }),
  }),
  'causes.rank': procedure({
    kind: 'read',
    does: 'Ranks the causes of a symptom by book, closed jobs and readings.',
    input: z.strictObject(forSymptom),
    output: ranking,
  }),
  'checks.next': procedure({
    kind: 'read',
    does: 'Names the checks that save most time, best first.',
    input: z.strictObject({
      ...forSymptom,
      done: z.array(slug).max(200).optional(),
      skipped: z.array(slug).max(200).optional(),
      limit: limit.optional(),
    }),
    output: plan,
  }),
} as const;
