import type { CheckView, OutputOf } from '../../api/contract.ts';

export type ListedCircuit = OutputOf<'circuits.list'>['circuits'][number];

/** The controls of a check that this circuit has, at positions it knows. */
export function startControls(circuit: ListedCircuit, check: CheckView | null): Record<string, string> {
  const wanted =
    check?.probe?.circuitId === circuit.circuitId ? check.probe.controls : (check?.controls ?? {});
  return Object.fromEntries(
    Object.entries(wanted).filter(([control, position]) =>
      circuit.controls[control]?.positions.includes(position),
    ),
  );
}

/** The circuit of the check's probe; without one the circuit that knows most of the controls the check asks for. */
export function likeliestCircuit(
  circuits: readonly ListedCircuit[],
  check: CheckView | null,
): ListedCircuit | null {
  const probed = circuits.find(({ circuitId }) => circuitId === check?.probe?.circuitId);
  if (probed) return probed;
  const known = (circuit: ListedCircuit): number => Object.keys(startControls(circuit, check)).length;
  return circuits.reduce<ListedCircuit | null>(
    (best, circuit) => (best === null || known(circuit) > known(best) ? circuit : best),
    null,
  );
}
