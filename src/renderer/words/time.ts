const day = new Intl.DateTimeFormat('en-US', { weekday: 'short', month: 'short', day: 'numeric' });
const dayYear = new Intl.DateTimeFormat('en-US', { year: 'numeric', month: 'short', day: 'numeric' });
const clock = new Intl.DateTimeFormat('en-US', { hour: 'numeric', minute: '2-digit' });

const isSameDay = (a: Date, b: Date): boolean => a.toDateString() === b.toDateString();

/** "today, 4:30 PM", "tomorrow, 9:00 AM", "Thu, Nov 26, 9:00 AM". */
export function whenWords(iso: string, now = new Date()): string {
  const at = new Date(iso);
  if (isSameDay(at, now)) return `today, ${clock.format(at)}`;
  const tomorrow = new Date(now);
  tomorrow.setDate(now.getDate() + 1);
  if (isSameDay(at, tomorrow)) return `tomorrow, ${clock.format(at)}`;
  return `${day.format(at)}, ${clock.format(at)}`;
}

export const dayWords = (iso: string): string => dayYear.format(new Date(iso));
export const isPast = (iso: string, now = new Date()): boolean => new Date(iso) < now;

/** An instant with this computer's offset, as the contract wants it. */
export function toInstant(local: Date): string {
  const offset = -local.getTimezoneOffset();
  const sign = offset < 0 ? '-' : '+';
  const two = (n: number): string => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  const shifted = new Date(local.getTime() + offset * 60_000).toISOString().slice(0, 19);
  return `${shifted}${sign}${two(offset / 60)}:${two(offset % 60)}`;
}

/** The value of a date-and-time field. */
export function toField(iso: string | null): string {
  return iso ? toInstant(new Date(iso)).slice(0, 16) : '';
}

/** What a date-and-time field holds, as an instant; null when it is empty or unfinished. */
export function fromField(text: string): string | null {
  const at = new Date(text);
  return text && !Number.isNaN(at.getTime()) ? toInstant(at) : null;
}

/** Promise times people name across the counter. */
export function promiseChoices(now = new Date()): { label: string; at: string }[] {
  const on = (days: number, hour: number): string => {
    const at = new Date(now);
    at.setDate(now.getDate() + days);
    at.setHours(hour, 0, 0, 0);
    return toInstant(at);
  };
  const today = now.getHours() < 16 ? [{ label: 'today 5 PM', at: on(0, 17) }] : [];
  return [...today, { label: 'tomorrow noon', at: on(1, 12) }, { label: 'tomorrow 5 PM', at: on(1, 17) }];
}
