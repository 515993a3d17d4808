/** Months and numbers as a person says them. */
const monthNames = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const;

/** @param month year × 12 + month, January 0 @returns such as "Aug 2026" */
export const monthWords = (month: number): string =>
  `${monthNames[((month % 12) + 12) % 12]} ${Math.floor(month / 12)}`;

/** @returns such as "2026-08" */
export const monthKey = (month: number): string =>
  `${String(Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}`;

/** The month of an instant on a clock that is ahead of UTC by so many minutes, as year × 12 + month. */
export function monthAt(ms: number, offsetMinutes: number): number {
  const wall = new Date(ms + offsetMinutes * 60_000);
  return wall.getUTCFullYear() * 12 + wall.getUTCMonth();
}

/** The first moment of a month (year × 12 + month) on a clock that is ahead of UTC by so many minutes, UTC milliseconds. */
export const monthStart = (month: number, offsetMinutes: number): number =>
  Date.UTC(Math.floor(month / 12), month % 12, 1) - offsetMinutes * 60_000;

export const monthsWords = (from: number, until: number): string =>
  from === until ? monthWords(from) : `${monthWords(from)} to ${monthWords(until)}`;

const counted = (count: number, one: string): string =>
  `${count.toLocaleString('en-US')} ${one}${count === 1 ? '' : 's'}`;

/** "8 of 33 visits". */
export const ofVisits = ({ concerns, visits }: { concerns: number; visits: number }): string =>
  `${concerns.toLocaleString('en-US')} of ${counted(visits, 'visit')}`;

/** "8 of 22 repairs". */
export const ofRepairs = (count: number, repairs: number): string =>
  `${count.toLocaleString('en-US')} of ${counted(repairs, 'repair')}`;

/** A ratio without false precision: "4 times", "about 30 times". */
export function timesWords(ratio: number): string {
  if (ratio >= 10) return `about ${Math.round(ratio)} times`;
  return `${ratio.toFixed(1).replace(/\.0$/, '')} times`;
}

/** Ages in years up to and including the number; what is older is the last. */
export const ages = [1, 3, 6, 10, 20] as const;

/** Places a vehicle's age in whole years; a model year ahead of the calendar is new. */
export function ageBand(years: number): { readonly key: string; readonly title: string } {
  let from = 0;
  for (const to of ages) {
    if (years <= to) return { key: `${from}-${to}`, title: `${from} to ${to} years` };
    from = to + 1;
  }
  return { key: 'older', title: 'over 20 years' };
}

/** From here on the bands are wide, and the last is open. */
export const wide_km = [50_000, 75_000, 100_000] as const;

/** Places a mileage band (whole number of `width_km`, which divides 25,000); from 50,000 km on bands are wider. */
export function mileageBandWords(band: number, width_km: number): { key: string; title: string } {
  const from = Math.max(0, band) * width_km;
  const text = (km: number): string => km.toLocaleString('en-US');
  const start = wide_km.findLast((km) => from >= km);
  if (start === undefined)
    return { key: String(from), title: `${text(from)} to ${text(from + width_km)} km` };
  const end = wide_km[wide_km.indexOf(start) + 1];
  return end === undefined
    ? { key: String(start), title: `${text(start)} km and more` }
    : { key: String(start), title: `${text(start)} to ${text(end)} km` };
}
