import { z } from 'zod';
import { instant, limit, money, slug, uuid } from './basics.ts';
import { procedure } from './procedure.ts';

const attributeValue = z.union([z.number(), z.string().max(120)]);
/** Name with its unit (`rating_a`) → number or word. */
export const attributes = z.record(z.string().max(60), attributeValue);

export const partStock = z.strictObject({
  onHand: z.int(),
  reserved: z.int(),
  /** On hand and not reserved. */
  free: z.int(),
  onOrder: z.int(),
  bin: z.string().nullable(),
  minimum: z.int(),
});

export const partPrice = z.strictObject({
  supplierId: slug,
  supplier: z.string(),
  price: money,
  /** What the supplier asks for an old part until it is given back. */
  core: money.nullable(),
  since: instant,
});

export const partView = z.strictObject({
  partNumber: z.string(),
  title: z.string(),
  /** Null for a number that only stands in a price list. */
  kind: slug.nullable(),
  componentId: slug.nullable(),
  maker: z.string().nullable(),
  attributes,
  gtin: z.string().nullable(),
  /** Cheapest present price first. */
  prices: z.array(partPrice),
  stock: partStock.nullable(),
  /** The shop no longer uses it. */
  retired: z.boolean(),
  /** Numbers that take its place today. */
  replacedBy: z.array(
    z.strictObject({ partNumber: z.string(), quantity: z.int(), chain: z.array(z.string()) }),
  ),
});

export const comparedAttribute = z.strictObject({
  name: z.string(),
  required: z.string(),
  offered: z.string(),
  margin: z.string(),
});

const inShop = { price: partPrice.nullable(), stock: partStock.nullable() };

export const fit = z.strictObject({
  partNumber: z.string(),
  title: z.string(),
  maker: z.string(),
  certainty: z.enum(['fits', 'replaces', 'interchange', 'equal-by-attributes']),
  why: z.string(),
  /** How many of it are needed where it stands in for one old part. */
  quantity: z.int(),
  position: z.string().nullable(),
  attributes: z.array(comparedAttribute),
  ...inShop,
});

export const nearMiss = z.strictObject({
  partNumber: z.string(),
  title: z.string(),
  maker: z.string(),
  whyNot: z.string(),
  attributes: z.array(comparedAttribute.extend({ fits: z.boolean() })),
  ...inShop,
});

export const fitment = z.strictObject({
  modelId: slug.nullable(),
  familyId: slug.nullable(),
  /** Title of the model or engine family. */
  machine: z.string(),
  years: z.strictObject({ from: z.int().nullable(), to: z.int().nullable() }),
  frames: z.strictObject({ from: z.string().nullable(), to: z.string().nullable() }),
  position: z.string().nullable(),
  note: z.string().nullable(),
  basis: z.string(),
});

export type PartView = z.infer<typeof partView>;
export type PartPrice = z.infer<typeof partPrice>;
export type PartStock = z.infer<typeof partStock>;
export type FitView = z.infer<typeof fit>;
export type NearMissView = z.infer<typeof nearMiss>;

const partNumber = z.string().trim().min(1).max(80);

const heading = z.string().trim().min(1).max(120).optional();
/**
 * Which heading of the list stands for what; number and price must be there. Where two headings are equal or one is missing:
 * `#` and the number or letter of the column, with or without its heading (`Price #3`, `#C`).
 */
export const listMapping = z.strictObject({
  number: heading,
  price: heading,
  title: heading,
  currency: heading,
  cost: heading,
  core: heading,
  gtin: heading,
});

/** What an import did, or would do: the `result` of its work. */
export const importReport = z.strictObject({
  dryRun: z.boolean(),
  counts: z.strictObject({
    rows: z.int(),
    new: z.int(),
    changed: z.int(),
    unchanged: z.int(),
    rejected: z.int(),
    /** Rows that were kept, with something that should be looked at. */
    noted: z.int(),
  }),
  encoding: z.string(),
  delimiter: z.string(),
  decimalSign: z.enum([',', '.']),
  headingsRow: z.int(),
  mapping: listMapping,
  /** The first of each, to look at. */
  changed: z.array(
    z.strictObject({ partNumber: z.string(), from: z.string(), to: z.string(), currency: z.string() }),
  ),
  added: z.array(
    z.strictObject({ partNumber: z.string(), title: z.string(), price: z.string(), currency: z.string() }),
  ),
  rejected: z.array(z.strictObject({ row: z.int(), why: z.string(), text: z.string() })),
  /** Kept all the same: a barcode whose check digit is wrong is left out, the price is taken. */
  notes: z.array(z.strictObject({ row: z.int(), note: z.string(), text: z.string() })),
  /** All rejected lines with row and reason, to mend and feed again; null where none was. */
  rejectsFile: z.string().nullable(),
  /** The same file by its bare name, for `GET /api/rejects/NAME` (`rejectsAddress` of the client) in a window. */
  rejectsName: z.string().nullable(),
});
export type ListMapping = z.infer<typeof listMapping>;

/** What `POST /api/uploads?name=FILE` answers (bytes as body, content-type application/octet-stream). */
export const uploadAnswer = z.strictObject({ uploadId: uuid, bytes: z.int() });
export type UploadAnswer = z.infer<typeof uploadAnswer>;
export type ImportReport = z.infer<typeof importReport>;

export const listPreview = z.strictObject({
  fileName: z.string(),
  encoding: z.string(),
  delimiter: z.string(),
  decimalSign: z.enum([',', '.']),
  /** Counted from 1; the first lines of a list may be an address. */
  headingsRow: z.int(),
  headings: z.array(z.string()),
  /** How a mapping calls each of the columns, equal and missing headings included. */
  names: z.array(z.string()),
  /** The first lines below the headings. */
  rows: z.array(z.strictObject({ row: z.int(), fields: z.array(z.string()) })),
  /** Columns that were found; number or price lack where no usual heading stands for them. */
  mapping: listMapping,
  /** The mapping is the one that was last used for this supplier. */
  isRemembered: z.boolean(),
});
export type ListPreview = z.infer<typeof listPreview>;

export const partsProcedures = {
  'parts.importPrices': procedure({
    kind: 'write',
    does: "Reads a supplier's price list (CSV or XLSX) row by row; answers with the work to watch. Nothing is seen before all of it is.",
    input: z.strictObject({
      supplier: z.string().trim().min(1).max(80),
      /** One of path, text and uploadId. A path is read where the program runs. */
      path: z.string().min(1).max(1000).optional(),
      text: z.string().max(40_000_000).optional(),
      /**
       * A file handed over by `upload` of the client. It stays for a dry run, for a run that failed or was cancelled, so that
       * the same file can be tried with another mapping; a run that is not dry and is done uses it up.
       */
      uploadId: uuid.optional(),
      /** Left out: the one that was used last for this supplier, else the usual headings. */
      mapping: listMapping.optional(),
      /** Left out: found from the prices of the list. */
      decimalSign: z.enum([',', '.']).optional(),
      dryRun: z.boolean(),
    }),
    output: z.strictObject({ workId: z.string() }),
  }),
  'parts.previewList': procedure({
    kind: 'read',
    does: 'What is recognized in the first lines of an uploaded price list, before anything of it is read in.',
    input: z.strictObject({ supplier: z.string().trim().max(80), uploadId: uuid }),
    output: listPreview,
  }),
  'parts.suppliers': procedure({
    kind: 'read',
    does: 'Lists the suppliers with the remembered mapping of their lists.',
    input: z.strictObject({}),
    output: z.strictObject({
      suppliers: z.array(
        z.strictObject({ supplierId: slug, name: z.string(), mapping: listMapping.nullable() }),
      ),
    }),
  }),
  'parts.find': procedure({
    kind: 'read',
    does: 'Finds parts by number in any typed form, by words, by scanned barcode, by kind, component, model or attributes.',
    input: z.strictObject({
      text: z.string().trim().max(200),
      modelId: slug.optional(),
      component: slug.optional(),
      kind: slug.optional(),
      attributes: attributes.optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({
      parts: z.array(partView),
      /** Said where a scanned barcode cannot be right. */
      note: z.string().nullable(),
    }),
  }),
  'parts.fit': procedure({
    kind: 'read',
    does: 'Says which parts of a kind or component fit a vehicle or model, how sure that is and why, and which nearly do.',
    input: z.strictObject({
      vehicleId: uuid.optional(),
      modelId: slug.optional(),
      year: z.int().min(1920).max(2100).optional(),
      frame: z.string().trim().max(30).optional(),
      kind: slug.optional(),
      component: slug.optional(),
    }),
    output: z.strictObject({ fits: z.array(fit), nearMisses: z.array(nearMiss) }),
  }),
  'parts.get': procedure({
    kind: 'read',
    does: 'One part with what it fits, what replaces it, equal parts, prices and their history, and stock.',
    input: z.strictObject({ partNumber }),
    output: z.strictObject({
      part: partView,
      fitments: z.array(fitment),
      /** Chains of older numbers that end at this one. */
      replaces: z.array(z.array(z.string())),
      equalParts: z.array(z.string()),
      priceHistory: z.array(partPrice),
    }),
  }),
  'vehicles.decode': procedure({
    kind: 'read',
    does: 'Reads the structure, check digit and possible model years of a VIN; any other text is taken as a frame number.',
    input: z.strictObject({ vin: z.string().trim().min(1).max(40) }),
    output: z.strictObject({
      vin: z.string(),
      kind: z.enum(['vin', 'frame']),
      wmi: z.string().nullable(),
      vds: z.string().nullable(),
      vis: z.string().nullable(),
      region: z.string().nullable(),
      smallMaker: z.string().nullable(),
      checkDigit: z.enum(['right', 'wrong', 'not-used']).nullable(),
      expectedCheckDigit: z.string().nullable(),
      years: z.array(z.int()),
      notes: z.array(z.string()),
    }),
  }),
} as const;
