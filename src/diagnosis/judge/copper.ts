/**
 * Temperature coefficient of annealed copper per °C, referred to 20 °C.
 * Source: IEC 60028; IEC 60287-1-1, Table 1.
 */
export const copperPerC = 0.00393;
/** Resistivity of annealed copper at 20 °C, ohm mm²/km. Source: IEC 60028. */
export const copperOhmMm2PerKm = 17.241;

/** Resistance that copper read as `ohm` at `temperature_c` has at 20 °C. Valid from −60 to 200 °C. */
export function copperAt20(ohm: number, temperature_c: number): number {
  return ohm / (1 + copperPerC * (temperature_c - 20));
}

/** Resistance at `temperature_c` of copper that has `ohm` at 20 °C. */
export function copperAt(ohm: number, temperature_c: number): number {
  return ohm * (1 + copperPerC * (temperature_c - 20));
}
