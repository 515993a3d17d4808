import { z } from 'zod';
import { quoted } from '../problem.ts';
import { closestName, didYouMean } from './closest-name.ts';
import { type Entry, type EntryKind, fieldPath, lineOfField } from './entry.ts';
import type { Finding } from './finding.ts';
import { shapes } from './shapes.ts';

/** Names people reach for first, with the name the book uses. */
const oftenMeant: Readonly<Record<string, string>> = {
  name: 'title',
  description: 'meaning',
  time: 'minutes',
  part: 'parts',
  probability: 'of_100',
  source: 'basis',
  tool: 'instrument',
  text: 'title',
};

/** What is wrong with the form of one entry, a finding per field. Empty when it fits the shape of its kind. */
export function shapeFindings(entry: Entry): Finding[] {
  const shape: z.ZodType = shapes[entry.kind];
  const result = shape.safeParse(entry.body);
  if (result.success) return [];
  const all = result.error.issues.flatMap((issue) => explain(issue, shape, entry.body, entry.kind));
  // A misspelled field is one mistake, not an unknown field and a missing one.
  const misspelled = new Set(
    all.flatMap((each) => (each.instead ? [fieldPath([...each.path.slice(0, -1), each.instead])] : [])),
  );
  return all
    .filter(({ code, path }) => !(code === 'missing-field' && misspelled.has(fieldPath(path))))
    .map(({ path, code, message }) => {
      const field = fieldPath(path);
      const line = lineOfField(entry, field);
      return {
        severity: 'error',
        code,
        message,
        file: entry.path,
        line,
        ...(field ? { field } : {}),
        id: entry.id,
      };
    });
}

interface Explained {
  readonly path: readonly PropertyKey[];
  readonly code: string;
  readonly message: string;
  /** The field that was probably meant by an unknown one. */
  readonly instead?: string | undefined;
}

function explain(issue: z.core.$ZodIssue, shape: z.ZodType, body: unknown, kind: EntryKind): Explained[] {
  const path = issue.path;
  const value = valueAt(body, path);
  const one = (code: string, message: string): Explained[] => [{ path, code, message }];
  if (value === undefined && issue.code !== 'unrecognized_keys') return [missing(path, shape, kind)];
  switch (issue.code) {
    case 'unrecognized_keys': {
      const known = fieldsAt(shape, path);
      return issue.keys.map((key) => ({
        path: [...path, key],
        code: 'unknown-field',
        instead: meantField(key, known),
        message: unknownField(key, known, (value as Record<string, unknown> | undefined)?.[key]),
      }));
    }
    case 'invalid_value':
      return one(
        'wrong-value',
        `expected one of ${issue.values.map(String).join(', ')}; got ${quoted(value)}${didYouMean(String(value), issue.values.map(String))}`,
      );
    case 'invalid_type':
      return one(
        'wrong-type',
        `expected ${typeName(issue.expected)}, got ${quoted(value)}${hint(issue.expected, value)}`,
      );
    case 'too_small':
    case 'too_big':
      return one('out-of-range', `expected ${bound(issue)}, got ${sizeOf(issue.origin, value)}`);
    case 'invalid_format':
      return one('wrong-form', `expected ${formName(path)}, got ${quoted(value)}`);
    case 'invalid_key':
      return one(
        'wrong-form',
        `expected an id (a-z, 0-9 and single hyphens) as name, got ${quoted(path.at(-1))}`,
      );
    case 'invalid_union':
      return unionBranch(issue, path, value, shape, body, kind);
    default:
      return one('wrong-value', `${issue.message}, got ${quoted(value)}`);
  }
}

/** Where the value is a mapping, the branch for mappings tells more than the sentence for the whole union. */
function unionBranch(
  issue: z.core.$ZodIssueInvalidUnion,
  path: readonly PropertyKey[],
  value: unknown,
  shape: z.ZodType,
  body: unknown,
  kind: EntryKind,
): Explained[] {
  if (typeof value === 'object' && value !== null) {
    const inner = issue.errors
      .map((errors) => errors.filter((each) => each.path.length > 0 || each.code === 'unrecognized_keys'))
      .filter((errors) => errors.length > 0)
      .sort((a, b) => a.length - b.length)[0];
    if (inner) {
      return inner
        .flatMap((each) => explain({ ...each, path: [...path, ...each.path] }, shape, body, kind))
        .map((each) => ({ ...each, message: `${each.message} (${issue.message})` }));
    }
  }
  return [{ path, code: 'wrong-value', message: `${issue.message}; got ${quoted(value)}` }];
}

function missing(path: readonly PropertyKey[], shape: z.ZodType, kind: EntryKind): Explained {
  const name = String(path.at(-1));
  const code =
    name === 'basis' ? (kind === 'spec' ? 'spec-without-basis' : 'without-basis') : 'missing-field';
  const expected = schemaAt(shape, path);
  const what =
    expected instanceof z.ZodArray ? ' (a list)' : expected instanceof z.ZodObject ? ' (a mapping)' : '';
  return { path, code, message: `the field “${name}”${what} is missing` };
}

function unknownField(key: string, known: readonly string[], value: unknown): string {
  const instead = meantField(key, known);
  if (value === null && (/\s/.test(key) || instead === undefined)) {
    return `“${key}” reads as a field of its own: inside {…} a comma ends the text, so put text with a comma in quotes`;
  }
  const meant = instead === undefined ? '' : `; did you mean “${instead}”?`;
  return `there is no field “${key}” here${meant}; the fields are ${known.join(', ')}`;
}

function meantField(key: string, known: readonly string[]): string | undefined {
  const usual = oftenMeant[key];
  return usual && known.includes(usual) ? usual : closestName(key, known);
}

function valueAt(body: unknown, path: readonly PropertyKey[]): unknown {
  let value = body;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

function schemaAt(shape: z.ZodType, path: readonly PropertyKey[]): z.ZodType | undefined {
  let current: z.ZodType | undefined = shape;
  for (const step of path) {
    current = child(unwrap(current), step);
    if (!current) return undefined;
  }
  return unwrap(current);
}

function unwrap(schema: z.ZodType | undefined): z.ZodType | undefined {
  let current = schema;
  while (current instanceof z.ZodOptional || current instanceof z.ZodNullable)
    current = current.unwrap() as z.ZodType;
  return current;
}

function child(schema: z.ZodType | undefined, step: PropertyKey): z.ZodType | undefined {
  if (schema instanceof z.ZodObject) return schema.shape[String(step)] as z.ZodType | undefined;
  if (schema instanceof z.ZodArray) return schema.element as z.ZodType;
  if (schema instanceof z.ZodRecord) return schema.valueType as z.ZodType;
  if (schema instanceof z.ZodUnion) {
    return (schema.options as readonly z.ZodType[]).map((option) => child(option, step)).find(Boolean);
  }
  return undefined;
}

/** The field names a mapping at this place may have. */
function fieldsAt(shape: z.ZodType, path: readonly PropertyKey[]): string[] {
  const schema = schemaAt(shape, path);
  const objects = schema instanceof z.ZodUnion ? (schema.options as readonly z.ZodType[]) : [schema];
  return [
    ...new Set(objects.flatMap((each) => (each instanceof z.ZodObject ? Object.keys(each.shape) : []))),
  ];
}

const typeNames: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list of two: [low, high]',
  object: 'a mapping',
  record: 'a mapping',
};
const typeName = (expected: string): string => typeNames[expected] ?? expected;

function hint(expected: string, value: unknown): string {
  if (expected === 'string' && (typeof value === 'number' || typeof value === 'boolean'))
    return '; write it in quotes';
  if (expected === 'array' && typeof value === 'string') return `; write [${value}]`;
  if (expected === 'number' && typeof value === 'string' && value.trim() && Number.isFinite(Number(value))) {
    return '; write it without quotes';
  }
  if (expected === 'string' && typeof value === 'object')
    return '; text with “: ” or “{” in it needs quotes around it';
  return '';
}

function bound(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  const things = issue.origin === 'string' ? ' characters' : issue.origin === 'array' ? ' entries' : '';
  if (issue.code === 'too_small')
    return `${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}${things}`;
  return `${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}${things}`;
}

function sizeOf(origin: string, value: unknown): string {
  if (Array.isArray(value)) return `${value.length}`;
  if (origin === 'string' && typeof value === 'string')
    return value.trim() ? `${value.length}: ${quoted(value)}` : 'no text';
  return quoted(value);
}

function formName(path: readonly PropertyKey[]): string {
  return path.at(-1) === 'typical_price' ? 'a price such as "9.50"' : 'an id (a-z, 0-9 and single hyphens)';
}
