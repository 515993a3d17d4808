const thin = '\u2009';

const signs: Record<string, string> = { ohm: 'Ω', kohm: 'kΩ', '%': '%' };

export const unitSign = (unit: string): string => signs[unit] ?? unit;

/** A share in words: "34 %", never a false 0. */
export function percent(share: number): string {
  if (share > 0 && share < 0.01) return `<${thin}1${thin}%`;
  return `${Math.round(share * 100)}${thin}%`;
}

export function minutesWords(minutes: number): string {
  if (minutes > 0 && minutes < 1) return `½${thin}min`;
  if (minutes < 120) return `${Math.round(minutes)}${thin}min`;
  return `${(Math.round(minutes / 6) / 10).toLocaleString('en-US')}${thin}h`;
}

export const kilometers = (km: number): string =>
  `${km.toLocaleString('en-US').replaceAll(',', thin)}${thin}km`;

export function bytesWords(bytes: number): string {
  if (bytes < 1_000_000) return `${Math.max(1, Math.round(bytes / 1000))}${thin}kB`;
  return `${(bytes / 1_000_000).toFixed(1)}${thin}MB`;
}

export const countWords = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`;
