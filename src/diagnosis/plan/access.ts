import type { Check } from '../../book/index.ts';

/**
 * Minutes that opening or parting takes, by the book's access words; saved when it is already open.
 * Common practice for small scooters, no source. A word that is not here counts as `otherAccessMinutes`.
 */
export const accessMinutes: Readonly<Record<string, number>> = {
  'battery-cover': 1,
  'relay-plug-parted': 1,
  'seat-panel': 2,
  'plug-out': 4,
  'front-panel': 5,
  'floor-panel': 6,
  'headset-cover': 6,
  'belt-cover': 10,
  'tank-off': 12,
  'wheel-off': 12,
  'cylinder-head-cover': 15,
  'carburetor-off': 15,
};
export const otherAccessMinutes = 2;

/** Of its touch time a check keeps at least this part, however much is already open. */
export const leastPart = 0.3;

/** Touch time still to spend on a check, minutes, when some of its access is already open. */
export function minutesLeft(check: Check, open: ReadonlySet<string>): number {
  let saved = 0;
  for (const word of check.access) if (open.has(word)) saved += accessMinutes[word] ?? otherAccessMinutes;
  return Math.max(check.minutes * leastPart, check.minutes - saved);
}
