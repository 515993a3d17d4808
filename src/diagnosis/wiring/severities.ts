import { type Circuit, type Component, type Fault, listFaults } from '../../circuit/index.ts';

/** One possible size of a fault: the faults as they are then, and how likely that size is. */
export interface Severity {
  readonly faults: readonly Fault[];
  readonly weight: number;
}

/** Every cause whose fault has a value stands on these sizes, so that readings meet at the same one. */
export const severityWeights = [0.1, 0.2, 0.4, 0.2, 0.1] as const;
/** Half-decade steps around the value of the book, or the standard value of the mode. Common practice, no source. */
const ohmFactors = [0.1, 0.316, 1, 3.16, 10] as const;
/** How far a battery has gone on the way to the discharged state of the book. Common practice, no source. */
const dischargeSteps = [0.5, 0.75, 1, 1.4, 2] as const;
/** Share of its volts that a weak winding has left, as a multiple of the book's. Common practice, no source. */
const fractionFactors = [0.4, 0.7, 1, 1.25, 1.5] as const;

/** Modes whose value is a matter of degree; the value of a short or of a seized motor is not. */
const gradualOhms = new Set(['resistive', 'contact-resistive', 'worn']);

/** The faults at every severity; a single one of weight 1 where none of them has a value that is a matter of degree. */
export function severitiesOfFaults(circuit: Circuit, faults: readonly Fault[]): Severity[] {
  const standards = listFaults(circuit);
  const gradual = faults.map((fault) => sizesOf(circuit, fault, standards));
  if (gradual.every((sizes) => sizes === null)) return [{ faults, weight: 1 }];
  return severityWeights.map((weight, step) => ({
    weight,
    faults: faults.map((fault, place) => gradual[place]?.[step] ?? fault),
  }));
}

function sizesOf(circuit: Circuit, fault: Fault, standards: ReturnType<typeof listFaults>): Fault[] | null {
  const component = circuit.components.find((one) => one.id === fault.component);
  const standard = standards.find((one) => one.component === fault.component && one.mode === fault.mode);
  if (!component || !standard) return null;
  const value = fault.value ?? standard.value;
  switch (standard.unit) {
    case 'ohm': {
      const ohm = ohmOf(value);
      if (!gradualOhms.has(fault.mode) || ohm === null) return null;
      // Never better than the sound part.
      const sound =
        numberAt(component, 'resistance_ohm') ??
        numberAt(component, 'contact_ohm') ??
        numberAt(component, 'running_ohm') ??
        0;
      return ohmFactors.map((factor) => ({ ...fault, value: Math.max(ohm * factor, 1.2 * sound) }));
    }
    case 'battery':
      return fault.mode === 'discharged' ? dischargeSizes(component, fault, value, standard.value) : null;
    case 'fraction': {
      if (typeof value !== 'number') return null;
      return fractionFactors.map((factor) => ({ ...fault, value: Math.min(0.95, value * factor) }));
    }
    default:
      return null;
  }
}

/** From the sound battery toward the discharged one: volts along the way, inner resistance along its logarithm. */
function dischargeSizes(
  component: Component,
  fault: Fault,
  value: unknown,
  standard: unknown,
): Fault[] | null {
  const full = { emf_v: numberAt(component, 'emf_v'), resistance_ohm: numberAt(component, 'resistance_ohm') };
  const flat = {
    emf_v: (typeof value === 'number' ? value : numberAt(value, 'emf_v')) ?? numberAt(standard, 'emf_v'),
    resistance_ohm: numberAt(value, 'resistance_ohm') ?? numberAt(standard, 'resistance_ohm'),
  };
  const { emf_v, resistance_ohm } = full;
  if (emf_v === null || resistance_ohm === null || flat.emf_v === null || flat.resistance_ohm === null)
    return null;
  const lost = emf_v - flat.emf_v;
  const grown = Math.log(flat.resistance_ohm / resistance_ohm);
  return dischargeSteps.map((step) => ({
    ...fault,
    value: {
      emf_v: Math.max(0.5, emf_v - step * lost),
      resistance_ohm: resistance_ohm * Math.exp(Math.min(step, 1.4) * grown),
    },
  }));
}

function ohmOf(value: unknown): number | null {
  return typeof value === 'number' ? value : (numberAt(value, 'ohm') ?? numberAt(value, 'resistance_ohm'));
}

function numberAt(value: unknown, field: string): number | null {
  if (typeof value !== 'object' || value === null) return null;
  const found = (value as Record<string, unknown>)[field];
  return typeof found === 'number' ? found : null;
}
