/** What a vehicle identification number says by its structure alone. */
export interface VinRead {
  /** As read: capitals, without spaces and dashes. */
  readonly vin: string;
  /** `vin` has 17 characters of the right alphabet; `frame` is any other frame number. */
  readonly kind: 'vin' | 'frame';
  /** Maker (WMI), description (VDS) and identifier (VIS) of ISO 3779; null for a frame number. */
  readonly wmi: string | null;
  readonly vds: string | null;
  readonly vis: string | null;
  readonly region: string | null;
  /** A nine in the third place stands for a small maker, named on in places 12 to 14. */
  readonly smallMaker: string | null;
  readonly checkDigit: 'right' | 'wrong' | 'not-used' | null;
  readonly expectedCheckDigit: string | null;
  /** Years that the code in the tenth place can mean, oldest first. A motorcycle's code alone leaves two. */
  readonly years: readonly number[];
  readonly notes: readonly string[];
}

const values: Readonly<Record<string, number>> = Object.fromEntries(
  ['ABCDEFGH', 'JKLMN', 'P', 'R', 'STUVWXYZ'].flatMap((letters, row) =>
    [...letters].map((letter, place) => [letter, place + ([1, 1, 7, 9, 2][row] as number)] as const),
  ),
);
const weights: readonly number[] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
const yearCodes = 'ABCDEFGHJKLMNPRSTVWXY123456789';
const firstYear = 1980;
const cycle = 30;

/** Check digit of 17 characters: sum of value times weight modulo 11, ten written X (49 CFR 565.15(c), Tables III to VI). */
export function vinCheckDigit(vin: string): string {
  const sum = weights.reduce<number>((total, weight, place) => {
    const sign = vin[place] as string;
    return total + weight * (values[sign] ?? Number(sign));
  }, 0);
  const rest = sum % 11;
  return rest === 10 ? 'X' : String(rest);
}

/** Both model years of a code in the tenth place (49 CFR 565.15(d), Table VII); empty where it is no year code. */
export function modelYears(code: string): number[] {
  const place = yearCodes.indexOf(code);
  return code.length !== 1 || place < 0 ? [] : [firstYear + place, firstYear + cycle + place];
}

/** Where the first character belongs (ISO 3780). */
function regionOf(sign: string): string {
  if (/[1-5]/.test(sign)) return 'North America';
  if (/[67]/.test(sign)) return 'Oceania';
  if (/[089]/.test(sign)) return 'South America';
  if (/[A-H]/.test(sign)) return 'Africa';
  if (/[J-R]/.test(sign)) return 'Asia';
  return 'Europe';
}

/**
 * Reads a VIN or a frame number. Outside of North America the check digit is not required (ISO 3779), so one that
 * fails there is a note.
 * @param latestYear a model year after this one cannot be: the year after the present
 */
export function decodeVin(text: string, latestYear: number): VinRead {
  const vin = text.replace(/[\s\-*.]/g, '').toUpperCase();
  const wrong = [...new Set([...vin].filter((sign) => !/[A-HJ-NPR-Z0-9]/.test(sign)))];
  if (vin.length !== 17 || wrong.length > 0) {
    const why =
      vin.length === 17
        ? `a VIN never has ${wrong.join(', ')}: look whether it is a 1 or a 0`
        : `a VIN has 17 characters, this has ${vin.length}; read as a frame number`;
    return {
      vin,
      kind: 'frame',
      wmi: null,
      vds: null,
      vis: null,
      region: null,
      smallMaker: null,
      checkDigit: null,
      expectedCheckDigit: null,
      years: [],
      notes: [why],
    };
  }
  const expected = vinCheckDigit(vin);
  const region = regionOf(vin[0] as string);
  const isRight = vin[8] === expected;
  const isRequired = region === 'North America';
  const years = modelYears(vin[9] as string).filter((year) => year <= latestYear);
  const notes: string[] = [];
  if (!isRight)
    notes.push(
      isRequired
        ? `the check digit in the ninth place should be ${expected}, not ${vin[8]}: the number was misread, or is none of a North American machine`
        : `the ninth place would be ${expected} as a check digit; machines built for other markets need none`,
    );
  if (years.length === 2)
    notes.push(
      `the year code ${vin[9]} means ${years[0]} or ${years[1]}; on a motorcycle nothing else tells which`,
    );
  if (years.length === 0)
    notes.push(`${vin[9]} in the tenth place is no model year; not every market uses one`);
  return {
    vin,
    kind: 'vin',
    wmi: vin.slice(0, 3),
    vds: vin.slice(3, 9),
    vis: vin.slice(9),
    region,
    smallMaker: vin[2] === '9' ? vin.slice(11, 14) : null,
    checkDigit: isRight ? 'right' : isRequired ? 'wrong' : 'not-used',
    expectedCheckDigit: expected,
    years,
    notes,
  };
}

const splitFrame = (text: string): { head: string; number: bigint } | null => {
  const found = /^(.*?)(\d+)$/.exec(text.replace(/[\s\-*.]/g, '').toUpperCase());
  return found ? { head: found[1] as string, number: BigInt(found[2] as string) } : null;
};

/** Why the two ends make no range of frame numbers; null where they do, or where one end is open. */
export function frameRangeFault(from: string | null, to: string | null): string | null {
  for (const end of [from, to])
    if (end !== null && !splitFrame(end)) return `a frame number ends with digits, “${end}” does not`;
  const low = from === null ? null : splitFrame(from);
  const high = to === null ? null : splitFrame(to);
  if (!low || !high) return null;
  if (low.head !== high.head) return `“${from}” and “${to}” do not begin alike`;
  return low.number > high.number ? `“${from}” comes after “${to}”` : null;
}

/**
 * Whether a frame number stands in a range: same letters before the number, the last run of digits compared by value.
 * @returns null where it cannot be said
 */
export function isInFrameRange(frame: string, from: string | null, to: string | null): boolean | null {
  const own = splitFrame(frame);
  if (!own) return null;
  for (const [limit, isLow] of [
    [from, true],
    [to, false],
  ] as const) {
    if (limit === null) continue;
    const bound = splitFrame(limit);
    if (!bound) return null;
    if (bound.head !== own.head) return false;
    if (isLow ? own.number < bound.number : own.number > bound.number) return false;
  }
  return true;
}
