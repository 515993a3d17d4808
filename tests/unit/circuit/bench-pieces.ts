/** Pieces for circuits that a test draws itself: ground is `gnd`, battery positive `plus`. */
export const wire = (id: string, a: string, b: string, resistance_ohm = 0.01) => ({
  id,
  kind: 'wire',
  ends: [a, b],
  resistance_ohm,
});
export const load = (id: string, a: string, b: string, resistance_ohm: number) => ({
  id,
  kind: 'resistor',
  ends: [a, b],
  resistance_ohm,
});
export const battery = {
  id: 'battery',
  kind: 'battery',
  positive: 'plus',
  negative: 'gnd',
  emf_v: 12,
  resistance_ohm: 0.02,
};
