import { z } from 'zod';
import { instant, limit, line, slug, uuid } from './basics.ts';
import { partStock } from './parts.ts';
import { procedure } from './procedure.ts';

const partNumber = z.string().trim().min(1).max(80);
const quantity = z.int().min(1).max(10_000);

/** A part on the shelf, and for a job how many are reserved for it and used on it. */
export const stockView = z.strictObject({
  partNumber: z.string(),
  title: z.string(),
  stock: partStock,
  job: z.strictObject({ jobId: uuid, reserved: z.int(), used: z.int() }).nullable(),
});

export const partOrder = z.strictObject({
  orderId: uuid,
  partNumber: z.string(),
  title: z.string(),
  supplier: z.string(),
  jobId: uuid.nullable(),
  jobNumber: z.int().nullable(),
  quantity: z.int(),
  arrived: z.int(),
  expectedAt: instant.nullable(),
  madeAt: instant,
});

export const heldPart = z.strictObject({
  heldId: uuid,
  jobId: uuid,
  jobNumber: z.int(),
  partNumber: z.string(),
  title: z.string(),
  supplierId: slug.nullable(),
  supplier: z.string().nullable(),
  why: z.enum(['core', 'warranty']),
  words: z.string(),
  state: z.enum(['held', 'sent', 'settled']),
  madeAt: instant,
  /** What goes to the supplier with the old part. */
  claimWords: z.string(),
});

export type StockView = z.infer<typeof stockView>;
export type PartOrderView = z.infer<typeof partOrder>;
export type HeldPartView = z.infer<typeof heldPart>;

/** The caller makes the id: sent twice, it counts once. */
const move = { moveId: uuid.optional(), partNumber, quantity };

export const stockProcedures = {
  'stock.reserve': procedure({
    kind: 'write',
    does: 'Keeps parts on the shelf for a job; refused where not so many are free.',
    input: z.strictObject({ ...move, jobId: uuid }),
    output: stockView,
  }),
  'stock.release': procedure({
    kind: 'write',
    does: 'Gives parts reserved for a job free again.',
    input: z.strictObject({ ...move, jobId: uuid }),
    output: stockView,
  }),
  'stock.use': procedure({
    kind: 'write',
    does: 'Takes parts from the shelf for a job, those reserved for it first.',
    input: z.strictObject({ ...move, jobId: uuid }),
    output: stockView,
  }),
  'stock.return': procedure({
    kind: 'write',
    does: 'Puts parts back that were taken for a job; no more than it took.',
    input: z.strictObject({ ...move, jobId: uuid }),
    output: stockView,
  }),
  'stock.count': procedure({
    kind: 'write',
    does: 'Sets what was counted on the shelf, the bin, and the least that should be there.',
    input: z.strictObject({
      moveId: uuid.optional(),
      partNumber,
      onHand: z.int().min(0).max(100_000),
      bin: z.string().trim().max(20).optional(),
      minimum: z.int().min(0).max(10_000).optional(),
    }),
    output: stockView,
  }),
  'stock.order': procedure({
    kind: 'write',
    does: 'Notes that parts are on order at a supplier, for a job or the shelf, with the expected date.',
    input: z.strictObject({
      orderId: uuid.optional(),
      partNumber,
      quantity,
      supplierId: slug,
      jobId: uuid.optional(),
      expectedAt: instant.optional(),
      /** A part that is out of use is ordered only with this; without it the answer names what replaces it. */
      evenRetired: z.boolean().optional(),
    }),
    output: partOrder,
  }),
  'stock.arrive': procedure({
    kind: 'write',
    does: 'Books ordered parts in; those of a job are reserved for it, and a job that waited for its last part goes on.',
    input: z.strictObject({ moveId: uuid.optional(), orderId: uuid, quantity }),
    output: z.strictObject({ order: partOrder, stock: stockView, jobGoesOn: z.boolean() }),
  }),
  'stock.hold': procedure({
    kind: 'write',
    does: 'Keeps an old part for its deposit or a warranty claim, or changes how far that is.',
    input: z.strictObject({
      heldId: uuid.optional(),
      jobId: uuid,
      partNumber,
      supplierId: slug.optional(),
      why: z.enum(['core', 'warranty']),
      words: line,
      state: z.enum(['held', 'sent', 'settled']).optional(),
    }),
    output: heldPart,
  }),
  'stock.claim': procedure({
    kind: 'read',
    does: 'A sheet (PDF) that goes to one supplier with the old parts that are held for it.',
    input: z.strictObject({
      heldIds: z.array(uuid).min(1).max(100),
      /** Left out: the shop's. */
      paper: z.enum(['A4', 'Letter']).optional(),
    }),
    output: z.strictObject({ fileName: z.string(), base64: z.string(), bytes: z.int() }),
  }),
  'stock.list': procedure({
    kind: 'read',
    does: 'What is on the shelf, on order and held; of one job, or what runs low.',
    input: z.strictObject({ jobId: uuid.optional(), low: z.boolean().optional(), limit: limit.optional() }),
    output: z.strictObject({
      parts: z.array(stockView),
      orders: z.array(partOrder),
      held: z.array(heldPart),
    }),
  }),
} as const;
