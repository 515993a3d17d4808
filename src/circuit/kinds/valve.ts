import type { AppliedFault, Term } from '../kind.ts';

/** A one-way branch; open: gone; shorted: a plain resistance both ways. */
export function valve(
  path: string,
  anode: string,
  cathode: string,
  drop_v: number,
  on_ohm: number,
  fault?: AppliedFault,
): Term {
  if (!fault) return { path, from: anode, to: cathode, ohm: on_ohm, emf_v: drop_v, isValve: true };
  const ohm = typeof fault.value === 'number' ? fault.value : null;
  return { path, from: anode, to: cathode, ohm };
}
