import { Problem, quoted } from '../problem.ts';
import type { Body, Entry, EntryKind } from './entry.ts';
import { isMapping, sameContent } from './same-content.ts';

/** Where the shop and the new shipped handbook changed the same thing differently; the shop's stands until somebody decides. */
export interface Conflict {
  readonly kind: EntryKind;
  readonly id: string;
  /** Null where a whole entry is at odds: removed on one side, changed on the other. */
  readonly field: string | null;
  /** The three values; undefined where there is none. */
  readonly base: unknown;
  readonly theirs: unknown;
  readonly ours: unknown;
}

/** Fields that only make sense together: who takes one takes all. */
const together: Readonly<Partial<Record<EntryKind, readonly (readonly string[])[]>>> = {
  symptom: [['priors', 'unlisted_of_100']],
  check: [['outcomes', 'quantity']],
  spec: [['low', 'high', 'unit', 'conditions', 'basis']],
};

/** Lists in which order and place say nothing: additions and removals of both sides are kept. */
const sets: ReadonlySet<string> = new Set([
  'related',
  'cautions',
  'aliases',
  'circuits',
  'phrases',
  'needs',
  'access',
  'hazards',
  'symptoms',
  'lacks',
  'models',
]);

/** Mappings that are merged field by field themselves. */
const nested: ReadonlySet<string> = new Set([
  'repair',
  'when',
  'wiring',
  'traits',
  'points',
  'plugs',
  'controls',
]);

/**
 * Takes a new shipped handbook (`theirs`) over one that the shop edited (`ours`); `base` is the shipped one that `ours` came from.
 * What only one side changed is taken, entry by entry and field by field; what both changed differently stays as the shop has it and
 * is listed. Entries keep the order of `theirs`; the shop's own follow. Merged content can break a rule that spans entries
 * (a removed cause that is still named), so build the book from it before use. Throws `bad-handbook` on an id written twice.
 */
export function mergeHandbooks(
  base: readonly Entry[],
  theirs: readonly Entry[],
  ours: readonly Entry[],
): { entries: Entry[]; conflicts: Conflict[] } {
  const [before, shipped, shop] = [byKey(base, 'base'), byKey(theirs, 'theirs'), byKey(ours, 'ours')];
  const entries: Entry[] = [];
  const conflicts: Conflict[] = [];
  for (const key of new Set([...shipped.keys(), ...shop.keys()])) {
    const merged = mergedEntry(before.get(key), shipped.get(key), shop.get(key), conflicts);
    if (merged) entries.push(merged);
  }
  return { entries, conflicts };
}

function byKey(entries: readonly Entry[], side: string): Map<string, Entry> {
  const map = new Map<string, Entry>();
  for (const entry of entries) {
    const key = `${entry.kind} ${entry.id}`;
    if (map.has(key)) {
      const message = `the ${entry.kind} ${quoted(entry.id)} is there twice in ${side}; one id is one thing`;
      throw new Problem('bad-handbook', message, { file: entry.path, line: entry.line, id: entry.id });
    }
    map.set(key, entry);
  }
  return map;
}

function mergedEntry(
  base: Entry | undefined,
  theirs: Entry | undefined,
  ours: Entry | undefined,
  conflicts: Conflict[],
): Entry | undefined {
  if (theirs && ours) return mergedBodies(base, theirs, ours, conflicts);
  const left = theirs ?? ours;
  if (!left) return undefined;
  if (!base) return left;
  if (sameContent(base.body, left.body)) return undefined;
  // One side removed what the other changed: the shop's wish stands, be it the removal or the change.
  conflicts.push({
    kind: left.kind,
    id: left.id,
    field: null,
    base: base.body,
    theirs: theirs?.body,
    ours: ours?.body,
  });
  return ours;
}

function mergedBodies(base: Entry | undefined, theirs: Entry, ours: Entry, conflicts: Conflict[]): Entry {
  const moved = base === undefined || base.path !== ours.path;
  const path = moved ? ours.path : theirs.path;
  const at = (entry: Entry): Entry => (entry.path === path ? entry : { ...entry, path });
  if (sameContent(theirs.body, ours.body)) return at(theirs);
  const report = (field: string, values: readonly [unknown, unknown, unknown]): void => {
    conflicts.push({
      kind: ours.kind,
      id: ours.id,
      field,
      base: values[0],
      theirs: values[1],
      ours: values[2],
    });
  };
  const body = mergedMapping(base?.body ?? {}, theirs.body, ours.body, '', together[ours.kind] ?? [], report);
  if (sameContent(body, theirs.body)) return at(theirs);
  if (sameContent(body, ours.body)) return at(ours);
  return { kind: ours.kind, id: ours.id, body, path, line: 0 };
}

type Values = readonly [base: unknown, theirs: unknown, ours: unknown];

function mergedMapping(
  base: Body,
  theirs: Body,
  ours: Body,
  prefix: string,
  groups: readonly (readonly string[])[],
  report: (field: string, values: Values) => void,
): Body {
  const merged: [string, unknown][] = [];
  const names = new Set([...Object.keys(theirs), ...Object.keys(ours)]);
  const pick = (side: Body, fields: readonly string[]): Body =>
    Object.fromEntries(fields.filter((name) => has(side, name)).map((name) => [name, side[name]]));
  for (const group of groups) {
    const [b, t, o] = [pick(base, group), pick(theirs, group), pick(ours, group)];
    const taken = takenSide(b, t, o);
    if (taken === 'both') report(prefix + group.join(' + '), [b, t, o]);
    merged.push(...Object.entries(taken === 'theirs' ? t : o));
    for (const name of group) names.delete(name);
  }
  for (const name of names) {
    const values: Values = [value(base, name), value(theirs, name), value(ours, name)];
    const result = mergedField(name, values, prefix, report);
    if (result !== undefined) merged.push([name, result]);
  }
  // The order of fields as one side has it, so that a written entry reads as before.
  const order = [...new Set([...Object.keys(ours), ...Object.keys(theirs)])];
  merged.sort(([a], [b]) => order.indexOf(a) - order.indexOf(b));
  return Object.fromEntries(merged);
}

function mergedField(
  name: string,
  values: Values,
  prefix: string,
  report: (field: string, values: Values) => void,
): unknown {
  const [base, theirs, ours] = values;
  const taken = takenSide(base, theirs, ours);
  if (taken === 'theirs') return theirs;
  if (taken === 'ours') return ours;
  if (nested.has(name) && isMapping(theirs) && isMapping(ours)) {
    return mergedMapping(isMapping(base) ? base : {}, theirs, ours, `${prefix}${name}.`, [], report);
  }
  if (sets.has(name) && Array.isArray(theirs) && Array.isArray(ours)) {
    return mergedSet(Array.isArray(base) ? base : [], theirs, ours);
  }
  report(prefix + name, values);
  return ours;
}

/** Whose value stands when it can be told: the only one that changed it, or either where both agree. */
function takenSide(base: unknown, theirs: unknown, ours: unknown): 'theirs' | 'ours' | 'both' {
  if (sameContent(theirs, ours) || sameContent(base, theirs)) return 'ours';
  return sameContent(base, ours) ? 'theirs' : 'both';
}

function mergedSet(
  base: readonly unknown[],
  theirs: readonly unknown[],
  ours: readonly unknown[],
): unknown[] {
  const includes = (list: readonly unknown[], item: unknown): boolean =>
    list.some((each) => sameContent(each, item));
  const kept = theirs.filter((item) => includes(ours, item) || !includes(base, item));
  const added = ours.filter((item) => !includes(theirs, item) && !includes(base, item));
  return [...kept, ...added];
}

const has = (side: Body, name: string): boolean => Object.hasOwn(side, name) && side[name] !== undefined;
const value = (side: Body, name: string): unknown => (Object.hasOwn(side, name) ? side[name] : undefined);
