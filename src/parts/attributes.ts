import type { Attributes, AttributeValue, Part } from './part.ts';

/** One attribute as it is shown: what the machine needs, what the part has, and how much room is left. */
export interface ComparedAttribute {
  readonly name: string;
  readonly required: string;
  readonly offered: string;
  readonly margin: string;
  readonly fits: boolean;
  /** Set where it does not fit. */
  readonly whyNot: string | null;
}

type Rule =
  | { readonly must: 'equal'; readonly because?: string; readonly larger?: string }
  | { readonly must: 'within'; readonly tolerance: number; readonly because?: string }
  | { readonly must: 'at-least' | 'at-most'; readonly because?: string };

const equal: Rule = { must: 'equal' };

/**
 * What must agree, by part kind; common practice of the trade, no single source. An attribute without a rule must be
 * equal, which is the careful side.
 */
const rules: Readonly<Record<string, Readonly<Record<string, Rule>>>> = {
  fuse: {
    rating_a: {
      must: 'equal',
      larger: 'a fuse is never replaced by a larger one: the wire behind it would burn first',
      because: 'a smaller one blows in normal use',
    },
  },
  battery: {
    capacity_ah: { must: 'at-least', because: 'it must crank as long as the one before' },
    cold_crank_a: { must: 'at-least', because: 'it must turn the starter in the cold' },
    length_mm: { must: 'at-most', because: 'it must go into the tray' },
    width_mm: { must: 'at-most', because: 'it must go into the tray' },
    height_mm: { must: 'at-most', because: 'the cover must close without touching the terminals' },
    polarity: { must: 'equal', because: 'the leads reach only one way round' },
    chemistry: { must: 'equal', because: 'charging voltage and care differ' },
  },
  'drive-belt': {
    length_mm: { must: 'within', tolerance: 1, because: 'the pulleys would start from the wrong place' },
    width_mm: { must: 'within', tolerance: 0.3, because: 'a narrow belt sits too deep' },
  },
  'variator-roller-set': {
    mass_g: { must: 'within', tolerance: 0.2, because: 'the engine would turn at another speed' },
  },
  'brake-pad-set': { shape: { must: 'equal', because: 'it must go into the caliper' } },
  'spark-plug': {
    reach_mm: { must: 'equal', because: 'a longer one meets the piston, a shorter one leaves threads bare' },
    heat_range: { must: 'equal', because: 'too hot burns the piston, too cold fouls' },
  },
};

/** Rules of attributes that mean the same on every kind. */
const general: Readonly<Record<string, Rule>> = {
  contact_a: { must: 'at-least', because: 'the contact would burn' },
  coil_ohm: { must: 'within', tolerance: 0.1, because: 'the coil must pull in at the same voltage' },
};
/** `coil_ohm` tolerance is a share of what is required; all others are in the unit of the name. */
const relative = new Set(['coil_ohm']);

export const units: Readonly<Record<string, string>> = {
  a: 'A',
  ah: 'Ah',
  v: 'V',
  w: 'W',
  ohm: 'Ω',
  mm: 'mm',
  g: 'g',
  l: 'L',
  teeth: 'teeth',
  inch: 'in',
  deg_c: '°C',
};

/** `coil_ohm` → name in words and unit. */
export function attributeWords(name: string): { readonly title: string; readonly unit: string } {
  const found = /^(.*)_(deg_c|[a-z]+)$/.exec(name);
  const unit = found && units[found[2] as string];
  if (!found || !unit) return { title: name.replaceAll('_', ' '), unit: '' };
  return { title: (found[1] as string).replaceAll('_', ' '), unit };
}

function shown(value: AttributeValue, unit: string): string {
  return unit === '' ? String(value) : `${value} ${unit}`;
}

const round = (value: number): number => Number(value.toPrecision(6));

function compareOne(
  kind: string,
  name: string,
  required: AttributeValue,
  offered: AttributeValue | undefined,
) {
  const { title, unit } = attributeWords(name);
  const rule: Rule = rules[kind]?.[name] ?? general[name] ?? equal;
  const base = { name, required: shown(required, unit) };
  if (offered === undefined)
    return { ...base, offered: 'not stated', margin: '', fits: false, whyNot: `${title} is not stated` };
  const words = { ...base, offered: shown(offered, unit) };
  const no = (why: string | undefined) => ({
    ...words,
    fits: false,
    whyNot: `${words.offered} instead of ${words.required}${unit === '' ? ` (${title})` : ''}${why ? `: ${why}` : ''}`,
  });
  if (typeof required !== 'number' || typeof offered !== 'number') {
    const same = String(required).toLowerCase() === String(offered).toLowerCase();
    return same
      ? { ...words, margin: 'same', fits: true, whyNot: null }
      : { ...no(rule.because), margin: 'differs' };
  }
  const difference = round(offered - required);
  const margin = difference === 0 ? 'same' : `${difference > 0 ? '+' : ''}${shown(difference, unit)}`;
  if (rule.must === 'within') {
    const tolerance = relative.has(name) ? Math.abs(required) * rule.tolerance : rule.tolerance;
    return Math.abs(difference) <= tolerance + 1e-9
      ? { ...words, margin, fits: true, whyNot: null }
      : { ...no(rule.because), margin };
  }
  const fits =
    rule.must === 'at-least' ? difference >= 0 : rule.must === 'at-most' ? difference <= 0 : difference === 0;
  const why = rule.must === 'equal' && difference > 0 && rule.larger ? rule.larger : rule.because;
  return fits ? { ...words, margin, fits: true, whyNot: null } : { ...no(why), margin };
}

/**
 * Compares a part with what is needed, attribute by attribute. What the part has beyond that does not matter.
 * @param kind part kind: it decides which way each attribute may differ
 */
export function compareAttributes(
  kind: string,
  required: Attributes,
  offered: Attributes,
): ComparedAttribute[] {
  return Object.entries(required).map(([name, value]) => compareOne(kind, name, value, offered[name]));
}

/**
 * Why two parts cannot be called equal: another kind, or a stated value that differs by more than the rules allow, either
 * way round. What only one of them states is no contradiction. Null where nothing stands against it.
 */
export function contradiction(one: Part, other: Part): string | null {
  if (one.kind !== other.kind)
    return `${one.number} is a ${one.kind.replaceAll('-', ' ')}, ${other.number} a ${other.kind.replaceAll('-', ' ')}`;
  for (const [required, offered] of [
    [one, other],
    [other, one],
  ] as const)
    for (const attribute of compareAttributes(one.kind, required.attributes, offered.attributes))
      if (!attribute.fits && attribute.name in offered.attributes)
        return `${offered.number} has ${attribute.whyNot ?? attribute.offered}`;
  return null;
}

/** Why a part must never take the place of another, whatever a list says: a larger fuse. Null where it may. */
export function neverInstead(old: Part, next: Part): string | null {
  if (old.kind !== next.kind) return null;
  for (const [name, rule] of Object.entries(rules[old.kind] ?? {})) {
    const required = old.attributes[name];
    const offered = next.attributes[name];
    if (rule.must !== 'equal' || rule.larger === undefined) continue;
    if (typeof required === 'number' && typeof offered === 'number' && offered > required) return rule.larger;
  }
  return null;
}
