import { z } from 'zod';
import { isCurrency } from '../../terms.ts';
import { instant, type money, slug } from './basics.ts';
import { symptomMatch } from './diagnosis.ts';
import { jobRow } from './jobs.ts';
import { partView } from './parts.ts';
import { customer, modelView, vehicle } from './people.ts';
import { procedure } from './procedure.ts';

export const settings = z.strictObject({
  shopName: z.string().trim().max(120),
  address: z.string().trim().max(400),
  phone: z.string().trim().max(60),
  /** ISO 4217. */
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'three capital letters, ISO 4217')
    .refine(isCurrency, 'no currency has this code (ISO 4217)'),
  /** Decimal string per hour. */
  laborRate: z.string().regex(/^\d{1,9}(\.\d{1,4})?$/, 'a number such as 72.50'),
  /** Decimal string. */
  diagnosisFee: z.string().regex(/^\d{1,9}(\.\d{1,4})?$/, 'a number such as 35.00'),
  comebackDays: z.int().min(1).max(3650),
  comebackKm: z.int().min(1).max(1_000_000),
  technicians: z.array(z.string().trim().min(1).max(60)).max(100),
});

export const workState = z.strictObject({
  workId: z.string(),
  title: z.string(),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  /** 0 to 1. */
  progress: z.number(),
  says: z.string(),
  result: z.unknown().optional(),
  problem: z.unknown().optional(),
});

const backupFile = z.strictObject({
  file: z.string(),
  at: instant,
  bytes: z.int(),
  kind: z.enum(['made', 'before-upgrade', 'kept-aside']),
});

export type Settings = z.infer<typeof settings>;
export type WorkState = z.infer<typeof workState>;

export const shopProcedures = {
  'shop.status': procedure({
    kind: 'read',
    does: 'Where the data is, how much is in it, which book is loaded.',
    input: z.strictObject({}),
    output: z.strictObject({
      dataFolder: z.string(),
      bookVersion: z.string(),
      symptoms: z.int(),
      causes: z.int(),
      checks: z.int(),
      jobs: z.int(),
      closedConcerns: z.int(),
      vehicles: z.int(),
      /** Nothing entered yet. */
      empty: z.boolean(),
      demo: z.boolean(),
      currency: z.string(),
      programVersion: z.string(),
    }),
  }),
  'shop.settings': procedure({
    kind: 'write',
    does: 'Reads the settings of the shop, and changes those that are given.',
    input: z.strictObject({ set: settings.partial().optional() }),
    output: settings,
  }),
  'shop.backup': procedure({
    kind: 'write',
    does: 'Writes a verified copy of the shop data while work goes on.',
    input: z.strictObject({ path: z.string().max(1000).optional() }),
    output: z.strictObject({ file: z.string(), bytes: z.int(), jobs: z.int(), verified: z.literal(true) }),
  }),
  'shop.backups': procedure({
    kind: 'read',
    does: 'Lists the backups in the data folder.',
    input: z.strictObject({}),
    output: z.strictObject({ backups: z.array(backupFile) }),
  }),
  'shop.restore': procedure({
    kind: 'write',
    does: 'Shows what a backup holds (preview), or puts it in place and keeps the present data aside.',
    input: z.strictObject({ path: z.string().min(1).max(1000), preview: z.boolean() }),
    output: z.strictObject({
      preview: z.boolean(),
      jobs: z.int(),
      vehicles: z.int(),
      newestJobAt: instant.nullable(),
      schemaVersion: z.int(),
      bytes: z.int(),
      /** Jobs now in use that the backup lacks; null where the present data cannot be read. */
      jobsLost: z.int().nullable(),
      keptAside: z.string().nullable(),
    }),
  }),
  'shop.demo': procedure({
    kind: 'write',
    does: 'Fills an empty data folder with an invented shop; answers with the work to watch.',
    input: z.strictObject({
      jobs: z.int().min(100).max(1_000_000).optional(),
      seed: z.int().min(1).optional(),
    }),
    output: z.strictObject({ workId: z.string() }),
  }),
  'shop.rebuildTally': procedure({
    kind: 'write',
    does: 'Counts the tally anew from the closed jobs and says how many rows were different.',
    input: z.strictObject({}),
    output: z.strictObject({ changed: z.int() }),
  }),
  'counter.find': procedure({
    kind: 'read',
    does: 'Takes anything typed or scanned: a plate, a name, a job number, a complaint, a part number.',
    input: z.strictObject({ text: z.string().trim().min(1).max(10_000), modelId: slug.optional() }),
    output: z.strictObject({
      vehicles: z.array(vehicle),
      customers: z.array(customer),
      jobs: z.array(jobRow),
      models: z.array(modelView),
      symptoms: z.array(symptomMatch),
      /** By number in any typed form, by words, or by a scanned barcode. */
      parts: z.array(partView),
      /** The text is the number or barcode of the first of `parts`, not only part of it. */
      isPartNumber: z.boolean(),
    }),
  }),
  'work.get': procedure({
    kind: 'read',
    does: 'How far a long piece of work is.',
    input: z.strictObject({ workId: z.string().max(80) }),
    output: workState,
  }),
  'work.cancel': procedure({
    kind: 'read',
    does: 'Stops a long piece of work; nothing half-done stays.',
    input: z.strictObject({ workId: z.string().max(80) }),
    output: workState,
  }),
} as const;
export type MoneyView = z.infer<typeof money>;
