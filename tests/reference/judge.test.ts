import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { chargeOf, loadMinimumAt, restVoltsAt } from '../../src/diagnosis/judge/battery.ts';
import { copperAt, copperAt20 } from '../../src/diagnosis/judge/copper.ts';
import { bladeRatings, fuseOpening } from '../../src/diagnosis/judge/fuse.ts';
import { lampCurrent } from '../../src/diagnosis/judge/lamp.ts';
import { gaugeArea, gaugeDiameter, gaugeOhmPerKm, soundWireOhm } from '../../src/diagnosis/judge/wire.ts';

const rows = (name: string): Record<string, string>[] =>
  parse(readFileSync(new URL(`data/${name}`, import.meta.url)), { columns: true });

test('copper: factors of IEC 60028 (0.00393 per °C from 20 °C) and a coil of 4 ohm read at 60 °C', () => {
  // R(T)/R(20) from the formula, 60 °C also printed as 1.157.
  for (const [celsius, factor] of [
    [-10, 0.8821],
    [0, 0.9214],
    [40, 1.0786],
    [60, 1.1572],
    [80, 1.2358],
    [120, 1.393],
  ] as const) {
    expect(copperAt(1, celsius)).toBeCloseTo(factor, 4);
    expect(copperAt20(factor, celsius)).toBeCloseTo(1, 4);
  }
  expect(copperAt20(4.629, 60)).toBeCloseTo(4, 3);
  // IEC 60034-1 uses k = 235: 4.627 ohm; the two rules differ by under 0.1 %.
  expect(copperAt20(4.627, 60)).toBeCloseTo(4, 2);
});

test('American wire gauges: ASTM B258 diameters, areas and published ohm per km', () => {
  const table = rows('awg.csv');
  expect(table.length).toBeGreaterThan(15);
  for (const row of table) {
    const gauge = Number(row.awg);
    expect(gaugeDiameter(gauge) / Number(row.diameter_mm)).toBeCloseTo(1, 3);
    expect(gaugeArea(gauge) / Number(row.area_mm2)).toBeCloseTo(1, 3);
    const published = row.ohm_per_km_20C_published;
    if (published) expect(Math.abs(gaugeOhmPerKm(gauge) / Number(published) - 1)).toBeLessThan(0.001);
  }
  // OpenStax University Physics 2, chapter 9: 12 gauge, 5.00 m, 0.025 ohm (resistivity 1.68e-8 there, 2.6 % less).
  expect(Math.abs((gaugeOhmPerKm(12) * 5) / 1000 / 0.025 - 1)).toBeLessThan(0.05);
});

test('cables: IEC 60228 class 5 maxima', () => {
  for (const row of rows('iec60228.csv')) {
    const wire = soundWireOhm({ length_m: 1000, area_mm2: Number(row.mm2) });
    expect(wire?.ohm).toBeCloseTo(Number(row.class5_6_plain_ohm_per_km_max), 6);
  }
  // A size that is not listed lies between its neighbors: 3 mm² between 2.5 and 4.
  const odd = soundWireOhm({ length_m: 1000, area_mm2: 3 })?.ohm ?? 0;
  expect(odd).toBeGreaterThan(4.95);
  expect(odd).toBeLessThan(7.98);
});

test('battery at rest: every value of the published table of charge by temperature', () => {
  const table = rows('ocv-soc.csv');
  expect(table.length).toBe(65);
  for (const row of table) {
    const [celsius, charge] = [Number(row.temp_C), Number(row.soc_pct)];
    expect(restVoltsAt(charge, celsius, 'flooded')).toBeCloseTo(Number(row.volts_wet), 2);
    expect(restVoltsAt(charge, celsius, 'gel')).toBeCloseTo(Number(row.volts_gel), 2);
    expect(Math.abs(chargeOf(Number(row.volts_wet), celsius, 'flooded') - charge)).toBeLessThan(1);
  }
});

test('battery load test: minimum volts by temperature, BCI / SAE J537 practice', () => {
  for (const row of rows('battery-load-test.csv')) {
    expect(loadMinimumAt(Number(row.temp_C))).toBeCloseTo(Number(row.min_volts_at_15s), 9);
  }
  expect(loadMinimumAt(35)).toBe(9.6);
  expect(loadMinimumAt(-25)).toBeNull();
});

test('blade fuses: opening times of ISO 8820-3, type C', () => {
  for (const row of rows('iso8820-blade.csv').filter((one) => one.type?.startsWith('C'))) {
    const rating = row.rating === '35-40 A' ? 40 : 10;
    const opening = fuseOpening(rating, (rating * Number(row.percent_of_rating)) / 100);
    if (row.min_opening_s) expect(opening.least_s).toBe(Number(row.min_opening_s));
    if (row.max_opening_s) expect(opening.most_s).toBe(Number(row.max_opening_s));
  }
  // Between two points only bounds hold: at 170 % not before the least of 200 %, within the most of 160 %.
  expect(fuseOpening(10, 17)).toEqual({ least_s: 0.15, most_s: 50 });
  expect(bladeRatings).toContain(7.5);
});

test('lamps: P21/5W of directive 97/24/EC, 25 W ± 6 % and 6 W ± 10 % at 13.5 V', () => {
  expect(Math.abs((lampCurrent(21, 12, 13.5) * 13.5) / 25 - 1)).toBeLessThan(0.06);
  expect(Math.abs((lampCurrent(5, 12, 13.5) * 13.5) / 6 - 1)).toBeLessThan(0.1);
});
