/** A moment: UTC milliseconds, and the minutes by which the clock on the wall was ahead of UTC. */
export interface Instant {
  readonly ms: number;
  readonly offset: number;
}

/** ISO 8601 with offset, to the second. */
export function toIso(ms: number, offsetMinutes: number): string {
  const wall = new Date(ms + offsetMinutes * 60_000).toISOString().slice(0, 19);
  if (offsetMinutes === 0) return `${wall}Z`;
  const size = Math.abs(offsetMinutes);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${wall}${offsetMinutes < 0 ? '-' : '+'}${two(Math.trunc(size / 60))}:${two(size % 60)}`;
}

export const isoOrNull = (ms: number | null, offset: number | null): string | null =>
  ms === null ? null : toIso(ms, offset ?? 0);

/** @param iso ISO 8601 with offset, already checked by the contract */
export function fromIso(iso: string): Instant {
  const zone = /([+-])(\d{2}):?(\d{2})$/.exec(iso);
  const offset = zone ? (zone[1] === '-' ? -1 : 1) * (Number(zone[2]) * 60 + Number(zone[3])) : 0;
  return { ms: Date.parse(iso), offset };
}

/** The clock of this computer. */
export function systemClock(): Instant {
  const now = new Date();
  return { ms: now.getTime(), offset: -now.getTimezoneOffset() };
}
