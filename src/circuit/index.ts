/** Front door of the circuit room: circuit + fault + instrument → readings, or a named refusal. */
export type { Bench } from './assemble.ts';
export { BRIDGE_OHM } from './assemble.ts';
export {
  type Circuit,
  type Component,
  type Control,
  MOST_COMPONENTS,
  type Plug,
  type Point,
} from './circuit-form.ts';
export {
  type Fault,
  type FaultModeInfo,
  faultModesOf,
  type ListedFault,
  listFaults,
  listKinds,
} from './faults.ts';
export {
  type Instrument,
  type Reading,
  TEST_LAMP_OHM,
  TEST_LAMP_V,
  VOLTMETER_OHM,
} from './instruments.ts';
export type { Terminal } from './kind.ts';
export { readCircuit } from './read-circuit.ts';
export type { Sign, SignKind, SignWord } from './signs.ts';
export { type CircuitSolution, type Overload, type SolveOptions, solveCircuit } from './solve-circuit.ts';
