import { type Conditions, commonPractice, type Judgement, type QuantityJudge, say } from './judgement.ts';

const chargeSteps = [0, 25, 50, 75, 100] as const;
/**
 * Open-circuit volts of a rested 12 V battery at 26.7 °C by charge.
 * Source: published state-of-charge table (specific gravity 1.265 = full at 26.7 °C), flooded and gel columns.
 */
const restVolts = {
  flooded: [11.89, 12.06, 12.24, 12.45, 12.65],
  gel: [11.8, 12.0, 12.4, 12.6, 12.8],
} as const;
/** The same table's shift by temperature, °C and V; it is the same at every charge. */
const restShift: readonly (readonly [number, number])[] = [
  [-17.8, -0.134],
  [-12.2, -0.108],
  [-6.7, -0.084],
  [-1.1, -0.062],
  [4.4, -0.044],
  [10, -0.028],
  [15.6, -0.016],
  [21.1, -0.007],
  [26.7, 0],
  [32.2, 0.005],
  [37.8, 0.008],
  [43.3, 0.011],
  [48.9, 0.013],
];
const restBasis = 'published: state-of-charge table of a rested 12 V battery by temperature';
/** Hours without charge or load before the volts mean charge. Source: published battery care texts: 8 h, better 24 h. */
export const leastRestHours = 8;
/** Minimum volts after 15 s at half the cold cranking amperes, by °C. Source: BCI / SAE J537 practice. */
const loadMinimum: readonly (readonly [number, number])[] = [
  [-18, 8.5],
  [-12, 8.7],
  [-7, 8.9],
  [-1, 9.1],
  [4, 9.3],
  [10, 9.4],
  [16, 9.5],
  [21, 9.6],
];
const loadBasis = 'published: BCI / SAE J537 load test, half the cold cranking amperes for 15 s';
/** Charge before a load test says anything, percent. Same source. */
export const leastLoadCharge = 75;
/** Charge below which a battery is judged low. Common practice. */
const leastGoodCharge = 75;

/** Linear between the points, level outside of them. */
export function between(points: readonly (readonly [number, number])[], x: number): number {
  const first = points[0] as readonly [number, number];
  if (x <= first[0]) return first[1];
  for (let i = 1; i < points.length; i++) {
    const [x1, y1] = points[i] as readonly [number, number];
    const [x0, y0] = points[i - 1] as readonly [number, number];
    if (x <= x1) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return (points[points.length - 1] as readonly [number, number])[1];
}

/** What a rested 12 V battery at `charge_percent` shows at `temperature_c`, V. AGM is read like gel (common practice). */
export function restVoltsAt(
  charge_percent: number,
  temperature_c: number,
  battery: 'flooded' | 'agm' | 'gel' = 'flooded',
): number {
  const column = restVolts[battery === 'flooded' ? 'flooded' : 'gel'];
  const points = chargeSteps.map((charge, place) => [charge, column[place] as number] as const);
  return between(points, charge_percent) + between(restShift, temperature_c);
}

/** Charge of a rested 12 V battery, percent 0 to 100, from its volts. Good to about 10 %. */
export function chargeOf(
  volts: number,
  temperature_c: number,
  battery: 'flooded' | 'agm' | 'gel' = 'flooded',
): number {
  const column = restVolts[battery === 'flooded' ? 'flooded' : 'gel'];
  const points = chargeSteps.map((charge, place) => [column[place] as number, charge] as const);
  return between(points, volts - between(restShift, temperature_c));
}

/** Lowest volts that pass the load test at a temperature; null below −18 °C, where there is no value. */
export function loadMinimumAt(temperature_c: number): number | null {
  return temperature_c < -18 ? null : between(loadMinimum, temperature_c);
}

function judgeRest(value: number, conditions: Conditions): Judgement {
  const { rest_hours, battery = 'flooded' } = conditions;
  const temperature_c = conditions.temperature_c ?? 20;
  const base = { value, unit: 'V' };
  if (battery === 'lithium') {
    const why =
      'The volts of a lithium battery hardly change between full and almost empty; go by its maker.';
    return { ...base, verdict: 'cannot-say', low: null, high: null, basis: commonPractice, why };
  }
  const low = round(restVoltsAt(leastGoodCharge, temperature_c, battery));
  const high = round(restVoltsAt(100, temperature_c, battery) + 0.15);
  const corrected = round(value - between(restShift, temperature_c));
  const judged = { ...base, corrected, low, high, basis: restBasis };
  if (rest_hours !== undefined && rest_hours < leastRestHours) {
    const why = `Rested ${say(rest_hours)} h; the volts mean charge only after ${leastRestHours} h without charge or load.`;
    return { ...judged, verdict: 'cannot-say', why };
  }
  const at = conditions.temperature_c === undefined ? 'taken as 20 °C' : `${say(temperature_c)} °C`;
  const rest = rest_hours === undefined ? ' Holds if it has rested for 8 h.' : '';
  // Two volts are one cell; six good ones never rest this low. Common practice, no source.
  if (value < 10.6) {
    return {
      ...judged,
      verdict: 'bad',
      why: `${say(value)} V is below what six sound cells show even when empty: a dead cell, or deeply discharged.`,
    };
  }
  if (value > high) {
    const why = `${say(value)} V is above a full battery at rest (${say(high)} V, ${at}): just charged, or still on charge. Let it rest.`;
    return { ...judged, verdict: 'high', why };
  }
  const charge = Math.round(chargeOf(value, temperature_c, battery));
  const why = `About ${charge} % charged (good to about 10 %), ${at}.${rest}`;
  return { ...judged, verdict: value < low ? 'low' : 'good', why };
}

function judgeLoad(value: number, conditions: Conditions): Judgement {
  const { temperature_c, charge_percent, current_a, cca_a, capacity_ah } = conditions;
  const base = { value, unit: 'V', high: null, basis: loadBasis };
  const refuse = (why: string): Judgement => ({ ...base, verdict: 'cannot-say', low: null, why });
  if (charge_percent !== undefined && charge_percent < leastLoadCharge) {
    return refuse(
      `At ${say(charge_percent)} % charge a load test says nothing; charge to ${leastLoadCharge} % or more first.`,
    );
  }
  if (temperature_c === undefined)
    return refuse('The limit depends on the temperature of the battery; note it with the reading.');
  const low = loadMinimumAt(temperature_c);
  if (low === null) return refuse('Below −18 °C there is no limit to go by; warm the battery up.');
  // Half the cold cranking amperes; without them three times the ampere-hours (published alternative).
  const load = cca_a !== undefined ? cca_a / 2 : capacity_ah !== undefined ? capacity_ah * 3 : undefined;
  const judged = { ...base, low: round(low) };
  const isGood = value >= low - 1e-9;
  if (load !== undefined && current_a !== undefined) {
    const share = Math.abs(current_a) / load;
    if (share < 0.9 && isGood) {
      return {
        ...judged,
        verdict: 'cannot-say',
        why: `Loaded with ${say(Math.abs(current_a))} A where the test asks for ${say(load)} A: passing that proves nothing.`,
      };
    }
    if (share > 1.1 && !isGood) {
      return {
        ...judged,
        verdict: 'cannot-say',
        why: `Loaded with ${say(Math.abs(current_a))} A where the test asks for ${say(load)} A: failing that proves nothing.`,
      };
    }
  }
  const caveat =
    charge_percent === undefined ? ` Holds if it was at least ${leastLoadCharge} % charged.` : '';
  const why = `At ${say(temperature_c)} °C at least ${say(low)} V after 15 s.${caveat}`;
  return { ...judged, verdict: isGood ? 'good' : 'bad', why };
}

const round = (volts: number): number => Math.round(volts * 1000) / 1000;

export const batteryJudges: readonly QuantityJudge[] = [
  {
    names: [
      'battery-rest-voltage',
      'battery-rest-volts',
      'battery-voltage',
      'open-circuit-voltage',
      'rest-voltage',
      'state-of-charge',
    ],
    unit: 'V',
    possible: { low: -1, high: 20 },
    judge: judgeRest,
  },
  {
    names: ['battery-load-voltage', 'battery-load-volts', 'load-test'],
    unit: 'V',
    possible: { low: 0, high: 20 },
    judge: judgeLoad,
  },
];
