import type { Book, Cause, Check, Component, Hazard, Instrument } from '../book/index.ts';

/** Cautions of which at least one must stand where the component's hazard is. */
export const cautionsForHazard: Readonly<Record<Hazard, readonly string[]>> = {
  battery: ['battery-gas-acid', 'lithium-care'],
  lithium: ['lithium-care'],
  'high-voltage': ['ignition-high-voltage'],
  fuel: ['fuel-vapor'],
  'fuel-pressure': ['fuel-pressure'],
  hot: ['hot-parts'],
  rotating: ['rotating-parts'],
  'belt-drive': ['belt-uncovered', 'belt-pinched'],
  brake: ['brake-fluid', 'brake-dust', 'brake-pump-first', 'do-not-ride-brakes'],
  coolant: ['coolant-pressure'],
  lifting: ['stand-secure', 'lifting'],
  'starter-current': ['machine-may-drive', 'relay-bridge', 'battery-lead-first', 'runs-on-disconnect'],
  electronics: ['no-probe-electronics'],
  airbag: ['licensed-work'],
  spring: ['spring-tension'],
};

/** Instruments that can hurt or destroy by the way they are used. */
export const cautionsForInstrument: Readonly<Partial<Record<Instrument, readonly string[]>>> = {
  'spark-tester': ['ignition-high-voltage', 'spark-near-fuel'],
  'peak-adapter': ['ignition-high-voltage'],
  ohmmeter: ['ohmmeter-dead-circuit'],
  hydrometer: ['battery-gas-acid'],
  'battery-tester': ['battery-gas-acid'],
  'timing-light': ['rotating-parts', 'ignition-high-voltage'],
  'compression-gauge': ['ignition-high-voltage', 'spark-near-fuel', 'fuel-vapor'],
  'leak-down-tester': ['compressed-air'],
  'fuel-pressure-gauge': ['fuel-pressure'],
};

export interface MissingCaution {
  /** What brings the hazard: “component starter-motor”, “instrument ohmmeter”. */
  readonly because: string;
  readonly oneOf: readonly string[];
}

/** Hazards of a cause's component without their caution. The rider's handling and normal behavior need no work, so no caution. */
export function cautionsMissingOnCause(book: Book, cause: Cause): MissingCaution[] {
  if (cause.kind === 'handling' || cause.kind === 'normal') return [];
  return missingFor(book.components.get(cause.componentId), cause.cautionIds);
}

/** The same for a check: its instrument, and the component of its spec where hands are laid on it. */
export function cautionsMissingOnCheck(book: Book, check: Check): MissingCaution[] {
  const missing: MissingCaution[] = [];
  const oneOf = cautionsForInstrument[check.instrument];
  if (oneOf && !oneOf.some((id) => check.cautionIds.includes(id))) {
    missing.push({ because: `instrument ${check.instrument}`, oneOf });
  }
  const spec = check.specId === null ? undefined : book.specs.get(check.specId);
  if (spec && (check.kind === 'probe' || check.kind === 'measure')) {
    missing.push(...missingFor(book.components.get(spec.componentId), check.cautionIds));
  }
  return missing;
}

function missingFor(component: Component | undefined, cautionIds: readonly string[]): MissingCaution[] {
  if (!component) return [];
  return component.hazards.flatMap((hazard) => {
    const oneOf = cautionsForHazard[hazard];
    if (oneOf.some((id) => cautionIds.includes(id))) return [];
    return [{ because: `component ${component.id} (${hazard})`, oneOf }];
  });
}
