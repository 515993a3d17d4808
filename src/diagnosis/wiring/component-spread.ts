import mt19937 from '@stdlib/random-base-mt19937';
import type { Circuit, Component } from '../../circuit/index.ts';

/** The machine as drawn and others of the same kind; fewer where every one is solved at 36 phase angles. */
const machinesOfKind = { direct: 5, alternating: 3 } as const;
/** Half width of a part's spread, as a share of its value, where the circuit gives none. Common practice, no source. */
const usualSpread: Readonly<Record<string, number>> = {
  wire: 0.3,
  switch: 0.3,
  fuse: 0.2,
  battery: 0.25,
  motor: 0.15,
};
const otherSpread = 0.08;
/** Half width of a charged battery's volts, V: 75 to 100 % of charge. Source: published state-of-charge table. */
const batteryVolts = 0.15;

/**
 * The circuit as several machines of the same kind would have it: the first as drawn, the others with every part's
 * value moved inside its tolerance. Seeded and fixed: the same circuit always gives the same machines.
 */
export function spreadCircuits(circuit: Circuit): Circuit[] {
  const twister = mt19937.factory({ seed: 2025 });
  const draw = (): number => twister() / 4_294_967_295;
  const isAlternating = circuit.components.some((component) => component.kind.includes('stator'));
  const count = isAlternating ? machinesOfKind.alternating : machinesOfKind.direct;
  const machines: Circuit[] = [circuit];
  for (let sample = 1; sample < count; sample++) {
    const components = circuit.components.map((component) =>
      Object.freeze(moved(component, 2 * draw() - 1, 2 * draw() - 1)),
    );
    machines.push(Object.freeze({ ...circuit, components: Object.freeze(components) }) as Circuit);
  }
  return machines;
}

function moved(component: Component, first: number, second: number): Component {
  const spread = component.tolerance ?? usualSpread[component.kind] ?? otherSpread;
  const factor = 1 + spread * first;
  const result: Record<string, unknown> = { ...component };
  for (const [field, value] of Object.entries(component)) {
    if (typeof value !== 'number') continue;
    if (field.endsWith('_ohm') || field === 'rated_w') result[field] = value * factor;
    if (field === 'pull_in_v' || field === 'drop_out_v') result[field] = value * (1 + 0.05 * second);
    if (field === 'emf_v' && component.kind === 'battery') result[field] = value + batteryVolts * second;
  }
  return result as unknown as Component;
}
