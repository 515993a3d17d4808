/** A unit as written in the book, what it measures, and how it turns into the base unit of that: base = (value + shift) × factor. */
export interface Unit {
  readonly unit: string;
  readonly measures: string;
  readonly factor: number;
  readonly shift: number;
  /** Other ways people write it. */
  readonly also: readonly string[];
}

const unit = (
  name: string,
  measures: string,
  factor: number,
  also: readonly string[] = [],
  shift = 0,
): Unit => ({
  unit: name,
  measures,
  factor,
  shift,
  also,
});

/** Exact by definition (SI; inch 25.4 mm; psi from pound and standard gravity; BIPM SI brochure, NIST SP 811). */
export const units: readonly Unit[] = [
  unit('V', 'voltage', 1, ['volt', 'volts', 'vdc', 'vac', 'v dc', 'v ac']),
  unit('mV', 'voltage', 1e-3, ['millivolt', 'millivolts']),
  unit('kV', 'voltage', 1e3, ['kilovolt', 'kilovolts']),
  unit('A', 'current', 1, ['amp', 'amps', 'ampere', 'amperes']),
  unit('mA', 'current', 1e-3, ['milliamp', 'milliamps', 'milliampere', 'milliamperes']),
  unit('µA', 'current', 1e-6, ['ua', 'μa', 'microamp', 'microamps']),
  unit('ohm', 'resistance', 1, ['ohms', 'ω', 'r']),
  unit('mohm', 'resistance', 1e-3, ['mω', 'milliohm', 'milliohms']),
  unit('kohm', 'resistance', 1e3, ['kω', 'k', 'kohms', 'kiloohm', 'kilohm', 'kilohms']),
  unit('Mohm', 'resistance', 1e6, ['Mω', 'megohm', 'megaohm', 'megohms']),
  unit('W', 'power', 1, ['watt', 'watts']),
  unit('mW', 'power', 1e-3, ['milliwatt']),
  unit('kW', 'power', 1e3, ['kilowatt']),
  unit('Ah', 'charge', 1, ['a h', 'a·h', 'amp hours', 'ampere hours']),
  unit('mAh', 'charge', 1e-3, ['ma h']),
  unit('kPa', 'pressure', 1, ['kilopascal']),
  unit('bar', 'pressure', 100, ['bars']),
  unit('mbar', 'pressure', 0.1, ['millibar']),
  unit('MPa', 'pressure', 1000, ['megapascal']),
  unit('hPa', 'pressure', 0.1, ['hectopascal']),
  unit('psi', 'pressure', 6.894757293168361, ['lb/in²', 'lbf/in²', 'lbs']),
  unit('mm', 'length', 1, ['millimeter', 'millimeters', 'millimetre']),
  unit('cm', 'length', 10, ['centimeter', 'centimeters']),
  unit('µm', 'length', 1e-3, ['um', 'μm', 'micron', 'microns']),
  unit('m', 'length', 1000, ['meter', 'meters', 'metre']),
  unit('in', 'length', 25.4, ['inch', 'inches', '"', '″']),
  unit('°C', 'temperature', 1, ['c', 'deg c', 'degc', 'celsius', '° c']),
  unit('°F', 'temperature', 5 / 9, ['f', 'deg f', 'degf', 'fahrenheit', '° f'], -32),
  unit('s', 'time', 1 / 60, ['sec', 'secs', 'second', 'seconds']),
  unit('min', 'time', 1, ['mins', 'minute', 'minutes']),
  unit('h', 'time', 60, ['hr', 'hrs', 'hour', 'hours']),
  unit('1/min', 'speed', 1, ['rpm', 'r/min', 'min-1', 'revs', 'rev/min', 'u/min']),
  unit('%', 'share', 1, ['percent', 'pct', 'per cent']),
  unit('N', 'force', 1, ['newton', 'newtons']),
  unit('kgf', 'force', 9.80665, ['kg', 'kp']),
  unit('N·m', 'torque', 1, ['nm', 'n m', 'n*m', 'newton meter', 'newton meters']),
  unit('lbf·ft', 'torque', 1.3558179483314, ['lb-ft', 'ft-lb', 'ft lb', 'lb ft', 'lbft', 'ftlb']),
  unit('L/h', 'flow', 1, ['l/hr', 'liters per hour']),
  unit('mL/min', 'flow', 0.06, ['ml/minute', 'cc/min', 'cm³/min']),
  unit('mL', 'volume', 1, ['cc', 'cm³', 'milliliter', 'milliliters']),
  unit('L', 'volume', 1000, ['liter', 'liters', 'litre']),
  unit('km', 'distance', 1, ['kilometer', 'kilometers']),
  unit('mi', 'distance', 1.609344, ['mile', 'miles']),
  unit('km/h', 'road speed', 1, ['kmh', 'kph']),
  unit('mph', 'road speed', 1.609344, ['mi/h']),
  unit('g', 'mass', 1, ['gram', 'grams']),
  unit('°', 'angle', 1, ['deg', 'degree', 'degrees']),
];

const tidy = (text: string): string =>
  text.trim().replaceAll('\u2126', 'Ω').replaceAll('μ', 'µ').replaceAll('Ω', 'ω').replace(/\s+/g, ' ');

/**
 * The units a text may mean, seen among those that measure what `wanted` measures: the exact spelling first, then
 * without regard to capitals. Empty when it is no unit of that kind.
 */
export function unitsMeant(text: string, wanted: Unit | undefined): Unit[] {
  const words = tidy(text);
  const pool = wanted ? units.filter((one) => one.measures === wanted.measures) : units;
  const spellings = (one: Unit): string[] => [one.unit, ...one.also].map(tidy);
  const exact = pool.filter((one) => spellings(one).includes(words));
  if (exact.length > 0) return exact;
  const low = words.toLowerCase();
  return pool.filter((one) => spellings(one).some((spelling) => spelling.toLowerCase() === low));
}

export function unitNamed(text: string): Unit | undefined {
  return units.find((one) => one.unit === text) ?? unitsMeant(text, undefined)[0];
}

/** `value` in `from` as a number in `to`; both must measure the same. */
export function convert(value: number, from: Unit, to: Unit): number {
  if (from.unit === to.unit) return value;
  const result = ((value + from.shift) * from.factor) / to.factor - to.shift;
  // 12600 × 0.001 is not 12.6 in binary; twelve digits are far beyond any meter here.
  return Number(result.toPrecision(12));
}
