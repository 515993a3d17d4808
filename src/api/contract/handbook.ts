import { z } from 'zod';
import { instant, limit, line } from './basics.ts';
import { procedure } from './procedure.ts';

export const finding = z.strictObject({
  severity: z.enum(['error', 'warning', 'note']),
  code: z.string(),
  message: z.string(),
  file: z.string().nullable(),
  line: z.int().nullable(),
  field: z.string().nullable(),
  id: z.string().nullable(),
});

const kind = z.string().max(40);
const id = z.string().max(160);
const file = z.strictObject({ path: z.string().max(300), text: z.string().max(5_000_000) });

export const entryView = z.strictObject({
  kind: z.string(),
  id: z.string(),
  body: z.record(z.string(), z.unknown()),
  yaml: z.string(),
  edited: z.boolean(),
  /** Entries that this one refers to, and that refer to it. */
  related: z.array(z.strictObject({ kind: z.string(), id: z.string(), title: z.string() })),
});

export const handbookChange = z.strictObject({
  seq: z.int(),
  at: instant,
  who: z.string(),
  why: z.string(),
  kind: z.string(),
  id: z.string(),
  title: z.string(),
  /** YAML before and after; null where there was or is none. */
  before: z.string().nullable(),
  after: z.string().nullable(),
  undoes: z.int().nullable(),
  canUndo: z.boolean(),
});

export const handbookConflict = z.strictObject({
  kind: z.string(),
  id: z.string(),
  /** Null where a whole entry is at odds. */
  field: z.string().nullable(),
  base: z.string(),
  shipped: z.string(),
  yours: z.string(),
});

export type EntryView = z.infer<typeof entryView>;
export type HandbookChange = z.infer<typeof handbookChange>;
export type FindingView = z.infer<typeof finding>;

export const handbookProcedures = {
  'handbook.check': procedure({
    kind: 'read',
    does: 'Reads handbook files without changing anything, and names every error by file, line and field.',
    input: z.strictObject({
      /** A folder on this computer; without it the handbook in use is checked. */
      path: z.string().max(1000).optional(),
      files: z
        .array(z.strictObject({ path: z.string().max(300), text: z.string().max(5_000_000) }))
        .max(500)
        .optional(),
    }),
    output: z.strictObject({
      ok: z.boolean(),
      findings: z.array(finding),
      coverage: z.record(z.string(), z.int()),
    }),
  }),
  'handbook.coverage': procedure({
    kind: 'read',
    does: 'How far the handbook in use reaches, by system, and what its last check found.',
    input: z.strictObject({}),
    output: z.strictObject({
      bookVersion: z.string(),
      systems: z.array(
        z.strictObject({
          system: z.string(),
          symptoms: z.int(),
          causes: z.int(),
          checks: z.int(),
          specs: z.int(),
          phrases: z.int(),
        }),
      ),
      /** Null when this form of the book was not checked since the program started. */
      checked: z.strictObject({ errors: z.int(), warnings: z.int(), notes: z.int() }).nullable(),
    }),
  }),
  'handbook.reload': procedure({
    kind: 'write',
    does: 'Loads the shipped handbook again; shop data stays.',
    input: z.strictObject({}),
    output: z.strictObject({ bookVersion: z.string(), changed: z.int() }),
  }),
  'handbook.browse': procedure({
    kind: 'read',
    does: 'The entries of the handbook by system.',
    input: z.strictObject({
      kind: z.string().max(40).optional(),
      system: z.string().max(40).optional(),
      text: z.string().max(200).optional(),
    }),
    output: z.strictObject({
      entries: z.array(
        z.strictObject({
          kind: z.string(),
          id: z.string(),
          title: z.string(),
          system: z.string().nullable(),
          edited: z.boolean(),
        }),
      ),
    }),
  }),
  'handbook.read': procedure({
    kind: 'read',
    does: 'One entry of the handbook, as it is written.',
    input: z.strictObject({ kind, id }),
    output: entryView,
  }),
  'handbook.edit': procedure({
    kind: 'write',
    does: 'Writes, changes or removes one entry of the handbook; refused with file, line and field when it does not fit.',
    input: z.strictObject({
      kind,
      /** Needed to change or remove; a new entry carries its id in the text. */
      id: id.optional(),
      /** The entry as YAML; null removes it. */
      yaml: z.string().max(200_000).nullable(),
      /** The YAML that was shown when editing began: a change made meanwhile is a conflict. */
      ifYaml: z.string().max(200_000).optional(),
      /** Where a new entry belongs. */
      system: z.string().max(40).optional(),
      who: line,
      why: z.string().trim().max(400).optional(),
    }),
    output: z.strictObject({
      entry: entryView.nullable(),
      findings: z.array(finding),
      seq: z.int(),
      bookVersion: z.string(),
    }),
  }),
  'handbook.history': procedure({
    kind: 'read',
    does: 'Who changed what in the handbook, newest first.',
    input: z.strictObject({
      kind: kind.optional(),
      id: id.optional(),
      before: z.int().optional(),
      limit: limit.optional(),
    }),
    output: z.strictObject({ changes: z.array(handbookChange) }),
  }),
  'handbook.undo': procedure({
    kind: 'write',
    does: 'Takes one change of the handbook back, unless the entry was changed again since.',
    input: z.strictObject({ seq: z.int(), who: line }),
    output: z.strictObject({ seq: z.int(), bookVersion: z.string() }),
  }),
  'handbook.compare': procedure({
    kind: 'read',
    does: 'What the shop changed against the shipped handbook, and where both changed the same thing.',
    input: z.strictObject({}),
    output: z.strictObject({
      entries: z.array(
        z.strictObject({
          kind: z.string(),
          id: z.string(),
          title: z.string(),
          state: z.enum(['edited', 'added', 'removed']),
          yours: z.string().nullable(),
          shipped: z.string().nullable(),
        }),
      ),
      conflicts: z.array(handbookConflict),
    }),
  }),
  'handbook.settle': procedure({
    kind: 'write',
    does: 'Takes the shipped form of an entry, or keeps the shop’s own, and closes its conflicts.',
    input: z.strictObject({ kind, id, take: z.enum(['shipped', 'yours']), who: line }),
    output: z.strictObject({ bookVersion: z.string() }),
  }),
  'handbook.export': procedure({
    kind: 'read',
    does: 'The whole handbook in use as YAML files; reading them back gives the same handbook.',
    input: z.strictObject({}),
    output: z.strictObject({ files: z.array(file) }),
  }),
  'handbook.import': procedure({
    kind: 'write',
    does: 'Takes entries from handbook files over those in use; all or nothing, with a dry run.',
    input: z.strictObject({
      files: z.array(file).min(1).max(500),
      dryRun: z.boolean(),
      /** Remove what the files do not have. Only right for a whole handbook. */
      replaceAll: z.boolean().optional(),
      who: line,
    }),
    output: z.strictObject({
      ok: z.boolean(),
      findings: z.array(finding),
      added: z.int(),
      changed: z.int(),
      removed: z.int(),
      unchanged: z.int(),
      bookVersion: z.string(),
    }),
  }),
  'handbook.learned': procedure({
    kind: 'read',
    does: "The customers' words that were given to a symptom in this shop.",
    input: z.strictObject({}),
    output: z.strictObject({
      words: z.array(
        z.strictObject({
          phraseId: z.string(),
          text: z.string(),
          symptomId: z.string(),
          title: z.string(),
          at: instant,
        }),
      ),
    }),
  }),
  'handbook.unlearn': procedure({
    kind: 'write',
    does: 'Takes learned words back.',
    input: z.strictObject({ phraseId: z.string().max(80) }),
    output: z.strictObject({ bookVersion: z.string() }),
  }),
} as const;
