import { z } from 'zod';

// A page under the strict security policy may not compile code at run time, so the schemas are not asked to try.
if ('document' in globalThis) z.config({ jitless: true });

/** ISO 8601 with offset. */
export const instant = z.iso.datetime({ offset: true });
/** The caller may make the id of what it creates (UUIDv7): same id and content, same answer. */
export const uuid = z.uuid();
/** Kebab-case id of the handbook. */
export const slug = z
  .string()
  .min(1)
  .max(80)
  .regex(/^[a-z0-9][a-z0-9-]*$/, 'an id has small letters, digits and dashes');
export const version = z.int().min(1);
/** Integer minor units with an ISO 4217 code. */
export const money = z.strictObject({ amount: z.int(), currency: z.string().regex(/^[A-Z]{3}$/) });
/** One line of words. */
export const line = z.string().trim().min(1, 'write something here').max(200);
/** Words of a person: a complaint, a note. */
export const words = z.string().trim().min(1, 'write something here').max(4000);
export const note = z.string().trim().max(4000);
export const share = z.number().min(0).max(1);
export const mileage_km = z.int().min(0).max(2_000_000);
export const minutes = z.number().min(0).max(100_000);
export const limit = z.int().min(1).max(500);

export const caution = z.strictObject({
  id: slug,
  signal: z.enum(['DANGER', 'WARNING', 'CAUTION', 'NOTICE']),
  hazard: z.string(),
  avoid: z.string(),
  doNotRide: z.boolean(),
});

export const basis = z.strictObject({
  kind: z.enum(['published', 'common-practice', 'shop-measured', 'demo']),
  source: z.string().optional(),
});

export const done = z.strictObject({ ok: z.literal(true) });
export type Money = z.infer<typeof money>;
export type CautionView = z.infer<typeof caution>;
