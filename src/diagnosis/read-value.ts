import { Problem, type ProblemPlace, quoted } from '../problem.ts';
import { convert, type Unit, unitNamed, unitsMeant } from './units.ts';

export interface ReadValueOptions {
  /** What an instrument can read there, in the wanted unit; a value outside is asked about. */
  readonly possible?: { readonly low: number; readonly high: number } | undefined;
  /** Field names for errors. */
  readonly field?: string | undefined;
  readonly unitField?: string | undefined;
  /** What is measured, for the message. */
  readonly name?: string | undefined;
}

interface Candidate {
  readonly value: number;
  readonly said: string;
}

/**
 * A measured value as a number in `wantedUnit`. Understands numbers and texts ("12600 mV", "1.2 kΩ", "1k2", "12,6",
 * "−0.4V", "12 600 mV"), and "OL", "open" or "∞" of an ohmmeter, which reads as the highest possible value. Throws
 * `bad-input` that says what it might have meant when a text has two possible readings ("1,200"), when the unit does
 * not measure the right thing, or when the value lies outside of what is possible.
 */
export function readValue(
  given: number | string,
  unit: string | undefined,
  wantedUnit: string,
  options: ReadValueOptions = {},
): number {
  const { possible } = options;
  const field = options.field ?? 'value';
  const at = (name: string): ProblemPlace => ({ field: name });
  const wanted = unitNamed(wantedUnit);
  const about = options.name ? ` for ${quoted(options.name)}` : '';

  const text = typeof given === 'number' ? null : given.trim();
  if (text !== null && /^(o\.?l\.?|0\.?l\.?|open|inf|infinite|∞|over ?load|over ?limit)$/i.test(text)) {
    if (wanted?.measures === 'resistance') return possible?.high ?? Number.POSITIVE_INFINITY;
    throw new Problem(
      'bad-input',
      `${quoted(given)} is no reading in ${wantedUnit}${about}; type the number.`,
      at(field),
    );
  }
  const split = text === null ? null : splitText(text);
  if (text !== null && !split) {
    throw new Problem(
      'bad-input',
      `${quoted(given)} is not a number with a unit${about}; type it like "12.6 V".`,
      at(field),
    );
  }
  const spelled = split?.unit || undefined;
  const unitText = spelled ?? unit;
  const found =
    unitText === undefined || unitText.trim() === ''
      ? wanted
        ? [wanted]
        : []
      : meant(unitText, wanted, wantedUnit);
  if (wanted && found.length === 0) {
    throw new Problem(
      'bad-input',
      `${quoted(unitText)} is no unit of ${wanted.measures}${about}; the value is wanted in ${wantedUnit}.`,
      at(spelled === undefined ? (options.unitField ?? 'unit') : field),
    );
  }
  if (!wanted && unitText !== undefined && unitText.trim() !== '' && unitText.trim() !== wantedUnit) {
    throw new Problem(
      'bad-input',
      `The value is wanted in ${wantedUnit}${about}, not in ${quoted(unitText)}.`,
      at(field),
    );
  }
  if (spelled !== undefined && unit !== undefined && wanted) {
    const other = meant(unit, wanted, wantedUnit);
    if (!other.some((one) => found.some((mine) => mine.unit === one.unit))) {
      throw new Problem(
        'bad-input',
        `${quoted(given)} says ${spelled}, but the unit is given as ${quoted(unit)}${about}; which one is it?`,
        at(options.unitField ?? 'unit'),
      );
    }
  }

  const numbers = split ? numbersMeant(split.number, split.scale) : [given as number];
  if (numbers.length === 0 || numbers.some((number) => !Number.isFinite(number))) {
    throw new Problem('bad-input', `${quoted(given)} is not a number${about}.`, at(field));
  }
  const candidates: Candidate[] = [];
  for (const number of numbers) {
    if (!wanted) candidates.push({ value: number, said: `${number} ${wantedUnit}` });
    for (const one of found) {
      if (wanted) candidates.push({ value: convert(number, one, wanted), said: `${number} ${one.unit}` });
    }
  }
  const fits = candidates.filter(
    (one) => !possible || (one.value >= possible.low && one.value <= possible.high),
  );
  const distinct = [...new Map(fits.map((one) => [one.value, one])).values()];
  if (distinct.length === 1) return (distinct[0] as Candidate).value;
  if (distinct.length > 1) {
    throw new Problem(
      'bad-input',
      `${quoted(given)} can be read as ${distinct.map((one) => one.said).join(' or as ')}${about}; type it so that it is clear.`,
      at(field),
    );
  }
  const first = candidates[0] as Candidate;
  const guess = possible && wanted ? guessUnit(numbers[0] as number, wanted, possible) : undefined;
  throw new Problem(
    'bad-input',
    `${first.said}${about} is outside of what can be read there, ${possible?.low} to ${possible?.high} ${wantedUnit}.${
      guess ? ` Did you mean ${guess.said} (${guess.value} ${wantedUnit})?` : ''
    }`,
    at(field),
  );
}

function meant(unitText: string, wanted: Unit | undefined, wantedUnit: string): Unit[] {
  if (wanted && unitText.trim() === wantedUnit) return [wanted];
  return wanted ? unitsMeant(unitText, wanted) : [];
}

/** Another unit of the same kind in which the bare number would be possible: the slip people make with prefixes. */
function guessUnit(
  number: number,
  wanted: Unit,
  possible: { low: number; high: number },
): Candidate | undefined {
  for (const name of [
    'mV',
    'mA',
    'mohm',
    'kohm',
    'kPa',
    'bar',
    'psi',
    '°F',
    'V',
    'A',
    'ohm',
    'mm',
    'in',
    'mL',
    'mAh',
  ]) {
    const one = unitNamed(name);
    if (!one || one.measures !== wanted.measures || one.unit === wanted.unit) continue;
    const value = convert(number, one, wanted);
    if (value >= possible.low && value <= possible.high) return { value, said: `${number} ${one.unit}` };
  }
  return undefined;
}

/** "12600 mV" → number and unit; "1k2" → 1.2 with scale 1000 in ohms. Null when there is no number in front. */
function splitText(text: string): { number: string; unit: string; scale: number } | null {
  const plain = text.replace(/[−–]/g, '-');
  const letter = /^([+-]?\d+)\s*([kKrR])(\d+)\s*(?:[ΩΩω]|ohms?)?$/i.exec(plain);
  if (letter) {
    const isKilo = (letter[2] as string).toLowerCase() === 'k';
    return { number: `${letter[1]}.${letter[3]}`, unit: 'ohm', scale: isKilo ? 1000 : 1 };
  }
  const match = /^([+-]?\s*(?:\d[\d .,'’\u00a0\u202f]*|[.,]\d+)(?:e[+-]?\d+)?)\s*(\S.*)?$/i.exec(plain);
  if (!match) return null;
  return { number: (match[1] as string).trim(), unit: (match[2] ?? '').trim(), scale: 1 };
}

/** What a written number may mean: a comma is a decimal mark, or parts thousands where exactly three digits follow. */
function numbersMeant(written: string, scale: number): number[] {
  const exponent = /e([+-]?\d+)$/i.exec(written);
  const power = exponent ? 10 ** Number(exponent[1]) : 1;
  const body = (exponent ? written.slice(0, exponent.index) : written).replace(/[ '’\u00a0\u202f]/g, '');
  const results: number[] = [];
  const push = (text: string): void => {
    if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) results.push(Number(text) * power * scale);
  };
  const commas = (body.match(/,/g) ?? []).length;
  const dots = (body.match(/\./g) ?? []).length;
  if (commas === 0 && dots <= 1) push(body);
  else if (commas === 1 && dots === 0) {
    push(body.replace(',', '.'));
    if (/^[+-]?[1-9]\d{0,2},\d{3}$/.test(body)) push(body.replace(',', ''));
  } else if (commas > 0 && dots === 1 && body.lastIndexOf('.') > body.lastIndexOf(',')) {
    if (/^[+-]?\d{1,3}(,\d{3})+\.\d*$/.test(body)) push(body.replaceAll(',', ''));
  } else if (dots > 0 && commas === 1 && body.lastIndexOf(',') > body.lastIndexOf('.')) {
    if (/^[+-]?\d{1,3}(\.\d{3})+,\d*$/.test(body)) push(body.replaceAll('.', '').replace(',', '.'));
  } else if (/^[+-]?\d{1,3}([.,]\d{3})+$/.test(body)) push(body.replace(/[.,]/g, ''));
  return results;
}
