import { useState } from 'react';
import type { CheckView } from '../../api/contract.ts';
import { useRead } from '../session/use-read.ts';
import { likeliestCircuit, startControls } from './choose-circuit.ts';

interface Chosen {
  /** What the choices below were made for; another check starts afresh. */
  readonly checkId: string | null;
  readonly circuitId?: string;
  readonly controls?: Readonly<Record<string, string>>;
  readonly unplugged?: readonly string[];
}

/** The circuit on show, how its controls stand, and its drawing as healthy and under the suspect. */
export function useWiring(
  check: CheckView | null,
  modelId: string | null,
  /** The suspect that is looked at first, then the others, likeliest first. */
  suspectIds: readonly string[],
) {
  const causeId = suspectIds[0] ?? null;
  const checkId = check?.checkId ?? null;
  const [kept, setKept] = useState<Chosen>({ checkId });
  const chosen: Chosen = kept.checkId === checkId ? kept : { checkId };
  const list = useRead('circuits.list', modelId ? { modelId } : {}, { stale: 60_000 });
  const circuits = list.data?.circuits ?? [];
  const circuit =
    circuits.find((each) => each.circuitId === chosen.circuitId) ??
    likeliestCircuit(circuits, check, suspectIds);
  const controls = chosen.controls ?? (circuit ? startControls(circuit, check) : {});
  const probe = circuit && check?.probe?.circuitId === circuit.circuitId ? check.probe : null;
  const unplugged = chosen.unplugged ?? probe?.unplugged ?? [];
  const input = circuit
    ? { circuitId: circuit.circuitId, controls, unplugged: [...unplugged], removed: probe?.removed ?? [] }
    : null;
  const healthy = useRead('circuits.draw', input, { keep: true });
  const suspect = useRead('circuits.draw', input && causeId ? { ...input, causeId } : null, { keep: true });
  return {
    list,
    circuits,
    circuit,
    probe,
    unplugged,
    healthy,
    suspect,
    choose: (circuitId: string) => setKept({ checkId, circuitId }),
    set: (control: string, position: string) =>
      setKept({ ...chosen, controls: { ...controls, [control]: position } }),
    part: (plug: string) =>
      setKept({
        ...chosen,
        controls,
        unplugged: unplugged.includes(plug)
          ? unplugged.filter((each) => each !== plug)
          : [...unplugged, plug],
      }),
  };
}
