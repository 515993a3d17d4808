/**
 * Numbers as words. What matters is the band a value lies in, not its digits: 13.1 V and 13.2 V with the engine running
 * say the same, 13.2 V and 14.2 V do not.
 */
const volts = [2, 6, 9, 10.6, 11.9, 12.35, 12.95, 13.45, 14.75, 16] as const;
const degrees = [30, 60, 95, 106] as const;
const milliamperes = [3, 25] as const;
const revolutions = [1250, 1950, 3100, 6000] as const;

const bandOf = (value: number, edges: readonly number[]): number => {
  const band = edges.findIndex((edge) => value < edge);
  return band < 0 ? edges.length : band;
};

/**
 * The word for a number and the folded word behind it. Volts are recognized without their unit where a decimal number
 * is of their size (“charging 13.1”), because job cards leave it out.
 */
export function valueWord(digits: string, unit: string): string {
  const value = Number(digits.replace(',', '.'));
  const isDecimal = /[.,]/.test(digits);
  if (/^(?:v|volt|volts|vdc|vlts)$/.test(unit) || (isDecimal && unit === '' && value >= 9 && value < 18))
    return `#v${bandOf(value, volts)}`;
  if (/^(?:ma|milliamps?)$/.test(unit)) return `#ma${bandOf(value, milliamperes)}`;
  if (/^(?:c|degrees|deg|celsius)$/.test(unit)) return `#c${bandOf(value, degrees)}`;
  if (/^(?:rpm|revs)$/.test(unit)) return `#r${bandOf(value, revolutions)}`;
  if (isDecimal) return `#d${Math.floor(value)}`;
  if (value <= 20) return `#${value}`;
  if (value < 100) return `#${Math.floor(value / 10)}x`;
  return `#e${Math.min(digits.length, 7)}`;
}
