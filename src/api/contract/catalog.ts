import { z } from 'zod';
import { isCurrency } from '../../terms.ts';
import { basis, instant, line, note, slug, uuid, version } from './basics.ts';
import { attributes, partPrice } from './parts.ts';
import { procedure } from './procedure.ts';

const partNumber = z.string().trim().min(1).max(60);
const who = z.string().trim().min(1, 'write who changes it').max(80);
const year = z.int().min(1920).max(2100).nullable();
const frame = z.string().trim().min(1).max(30).nullable();
const decimal = z
  .string()
  .trim()
  .regex(/^\d{1,9}(\.\d{1,4})?$/, 'a decimal number such as 72.50');

export const editableFitment = z.strictObject({
  fitmentId: z.string(),
  modelId: slug.nullable(),
  familyId: slug.nullable(),
  machine: z.string(),
  years: z.strictObject({ from: z.int().nullable(), to: z.int().nullable() }),
  frames: z.strictObject({ from: z.string().nullable(), to: z.string().nullable() }),
  position: z.string().nullable(),
  note: z.string().nullable(),
  basis: z.string(),
});

/** A part as it is kept: what can be changed of it, and who changed what. */
export const partCard = z.strictObject({
  partNumber: z.string(),
  /** Every change of the part or of what ties it carries this. */
  version,
  title: z.string(),
  kind: slug,
  componentId: slug.nullable(),
  maker: z.string(),
  attributes,
  gtin: z.string().nullable(),
  retired: z.strictObject({ at: instant, why: z.string() }).nullable(),
  bin: z.string().nullable(),
  minimum: z.int(),
  fitments: z.array(editableFitment),
  /** What takes its place directly: one part, or the parts of a kit. */
  replacedBy: z.array(
    z.strictObject({
      partNumber: z.string(),
      title: z.string(),
      quantity: z.int(),
      note: z.string().nullable(),
    }),
  ),
  equalParts: z.array(z.strictObject({ partNumber: z.string(), title: z.string() })),
  prices: z.array(partPrice),
  /** Newest first. */
  changes: z.array(z.strictObject({ at: instant, who: z.string(), what: z.string() })),
});
export type PartCard = z.infer<typeof partCard>;
export type EditableFitment = z.infer<typeof editableFitment>;

export const kindAttribute = z.strictObject({
  name: z.string(),
  title: z.string(),
  /** Empty for a word. */
  unit: z.string(),
  isNumber: z.boolean(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  /** Words that other parts of the kind have here. */
  usual: z.array(z.string()),
});
export type KindAttributeView = z.infer<typeof kindAttribute>;

const upkeep = { partNumber, ifVersion: version, who };

export const catalogProcedures = {
  'parts.card': procedure({
    kind: 'read',
    does: 'One part as it is kept, with its version, what ties it to others, and who changed what.',
    input: z.strictObject({ partNumber }),
    output: partCard,
  }),
  'parts.form': procedure({
    kind: 'read',
    does: 'What a part of a kind states, with units and bounds; empty for a kind that may state anything.',
    input: z.strictObject({ kind: slug }),
    output: z.strictObject({ attributes: z.array(kindAttribute) }),
  }),
  'parts.save': procedure({
    kind: 'write',
    does: 'Adds a part to the catalog, or with ifVersion changes one. Another number is another part: it can replace this one.',
    input: z.strictObject({
      partNumber,
      /** Left out for a new part. */
      ifVersion: version.optional(),
      title: line,
      kind: slug,
      componentId: slug.nullable().optional(),
      maker: z.string().trim().max(80).optional(),
      attributes: attributes.optional(),
      /** As printed or scanned: 8, 12, 13 or 14 digits; null or empty takes it away. */
      gtin: z.string().trim().max(20).nullable().optional(),
      /** The least that should be on the shelf. */
      minimum: z.int().min(0).max(10_000).optional(),
      bin: z.string().trim().max(20).optional(),
      who,
    }),
    output: partCard,
  }),
  'parts.retire': procedure({
    kind: 'write',
    does: 'Takes a part out of use, or back into it. Jobs and quotes that name it keep it.',
    input: z.strictObject({ ...upkeep, retired: z.boolean(), why: note.max(200).optional() }),
    output: partCard,
  }),
  'parts.saveFitment': procedure({
    kind: 'write',
    does: 'Says that a part fits a model or an engine family, or changes what was said.',
    input: z.strictObject({
      ...upkeep,
      /** The caller makes it; one that is there is changed. */
      fitmentId: uuid.optional(),
      modelId: slug.nullable().optional(),
      familyId: slug.nullable().optional(),
      years: z.strictObject({ from: year, to: year }).optional(),
      frames: z.strictObject({ from: frame, to: frame }).optional(),
      position: z.string().trim().max(80).nullable().optional(),
      note: note.max(200).nullable().optional(),
      basis,
    }),
    output: partCard,
  }),
  'parts.removeFitment': procedure({
    kind: 'write',
    does: 'Takes a fitment away.',
    input: z.strictObject({ ...upkeep, fitmentId: z.string().min(1).max(80) }),
    output: partCard,
  }),
  'parts.replace': procedure({
    kind: 'write',
    does: 'Sets what takes the place of a number: nothing, one part, or the parts of a kit. A circle is refused with the chain shown.',
    input: z.strictObject({
      ...upkeep,
      by: z
        .array(
          z.strictObject({
            partNumber,
            quantity: z.int().min(1).max(100),
            note: note.max(200).nullable().optional(),
          }),
        )
        .max(20),
    }),
    output: partCard,
  }),
  'parts.equal': procedure({
    kind: 'write',
    does: 'Puts a part into the group of parts that are equal to another, or (without another) takes it out of its group.',
    input: z.strictObject({ ...upkeep, to: partNumber.nullable() }),
    output: partCard,
  }),
  'parts.setPrice': procedure({
    kind: 'write',
    does: 'Notes what a supplier asks for a part, typed by hand. Earlier prices stay in its history.',
    input: z.strictObject({
      ...upkeep,
      supplier: z.string().trim().min(1).max(80),
      /** Decimal string, net. */
      price: decimal,
      /** Left out: the shop's. */
      currency: z
        .string()
        .regex(/^[A-Z]{3}$/, 'three letters such as EUR')
        .refine(isCurrency, 'no currency has this code (ISO 4217)')
        .optional(),
      cost: decimal.nullable().optional(),
      /** What is charged until the old part is given back. */
      core: decimal.nullable().optional(),
    }),
    output: partCard,
  }),
} as const;
