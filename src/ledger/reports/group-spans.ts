import { ages, wide_km } from './words.ts';

/** From and to, both inclusive; `to` null where the last group is open. */
export interface GroupSpan {
  readonly from: number;
  readonly to: number | null;
}

/**
 * Whole years that a key of `ageBand` stands for; model years ahead of the calendar belong to the youngest.
 * @returns null for a key that no band has
 */
export function ageSpan(key: string): GroupSpan | null {
  const last = ages.at(-1) ?? 0;
  if (key === 'older') return { from: last + 1, to: null };
  const at = ages.findIndex((to, place) => key === `${place === 0 ? 0 : (ages[place - 1] ?? 0) + 1}-${to}`);
  if (at < 0) return null;
  return { from: at === 0 ? -1000 : (ages[at - 1] ?? 0) + 1, to: ages[at] ?? null };
}

/**
 * Bands of `width_km` that a key of `mileageBandWords` stands for.
 * @returns null for a key that no band has
 */
export function mileageSpan(key: string, width_km: number): GroupSpan | null {
  if (!/^\d{1,9}$/.test(key)) return null;
  const from = Number(key);
  if (from % width_km !== 0) return null;
  const wide = wide_km.findLast((km) => from >= km);
  if (wide === undefined) return { from: from / width_km, to: from / width_km };
  if (wide !== from) return null;
  const end = wide_km[wide_km.indexOf(wide) + 1];
  return { from: from / width_km, to: end === undefined ? null : end / width_km - 1 };
}
