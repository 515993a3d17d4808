import { copperAt, copperOhmMm2PerKm } from './copper.ts';

/** Maximum resistance of flexible plain copper at 20 °C, ohm/km, by mm². Source: IEC 60228, classes 5 and 6. */
const flexibleMaximum: Readonly<Record<string, number>> = {
  '0.5': 39.0,
  '0.75': 26.0,
  '1': 19.5,
  '1.5': 13.3,
  '2.5': 7.98,
  '4': 4.95,
  '6': 3.3,
  '10': 1.91,
  '16': 1.21,
  '25': 0.78,
};
/** For sizes outside of the table: the table lies 9 to 16 % above resistivity over area. */
const flexibleOver = 1.16;
/** Published maxima for American gauges lie about 2 % above solid annealed copper (UL 1581). */
const gaugeOver = 1.02;

/** Diameter of an American wire gauge, mm. Source: ASTM B258, 0.127 mm × 92^((36 − n)/39). */
export function gaugeDiameter(awg: number): number {
  return 0.127 * 92 ** ((36 - awg) / 39);
}

/** Area of an American wire gauge, mm². */
export function gaugeArea(awg: number): number {
  return (Math.PI / 4) * gaugeDiameter(awg) ** 2;
}

/** Resistance of solid annealed copper of an American wire gauge at 20 °C, ohm/km. */
export function gaugeOhmPerKm(awg: number): number {
  return copperOhmMm2PerKm / gaugeArea(awg);
}

export interface WireSize {
  readonly length_m?: number | undefined;
  readonly area_mm2?: number | undefined;
  readonly awg?: number | undefined;
  readonly temperature_c?: number | undefined;
}

/**
 * The most that a sound wire of this size may have, ohm, at its temperature (20 °C where none is given). Null where
 * length or size is missing.
 */
export function soundWireOhm(size: WireSize): { readonly ohm: number; readonly source: string } | null {
  const { length_m, area_mm2, awg, temperature_c = 20 } = size;
  if (length_m === undefined || !(length_m > 0)) return null;
  let perKm: number;
  let source: string;
  if (area_mm2 !== undefined && area_mm2 > 0) {
    const listed = flexibleMaximum[String(area_mm2)];
    perKm = listed ?? (flexibleOver * copperOhmMm2PerKm) / area_mm2;
    source =
      listed === undefined
        ? 'published: IEC 60028, resistivity over area, 16 % added'
        : 'published: IEC 60228, class 5';
  } else if (awg !== undefined) {
    perKm = gaugeOver * gaugeOhmPerKm(awg);
    source = 'published: ASTM B258, 2 % added';
  } else return null;
  return { ohm: copperAt((perKm * length_m) / 1000, temperature_c), source };
}
