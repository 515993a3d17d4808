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

/** How far down the list of suspects a wiring fault is still worth drawing. */
const suspectsLookedAt = 3;

/**
 * The circuit of the check's probe; without one the circuit that the likeliest suspects are a fault of.
 * Null where the check probes nothing and none of the first suspects lies in the wiring: no drawing helps there.
 */
export function likeliestCircuit(
  circuits: readonly ListedCircuit[],
  check: CheckView | null,
  suspectIds: readonly string[],
): ListedCircuit | null {
  const probed = circuits.find(({ circuitId }) => circuitId === check?.probe?.circuitId);
  if (probed) return probed;
  const controls = (circuit: ListedCircuit): number => Object.keys(startControls(circuit, check)).length;
  for (const causeId of suspectIds.slice(0, suspectsLookedAt)) {
    // A component may stand in more than one drawing: the one whose controls the check asks for shows more.
    const [best] = circuits
      .filter(({ causes }) => causes.includes(causeId))
      .sort((one, other) => controls(other) - controls(one));
    if (best) return best;
  }
  return null;
}
