/** The drawing of a circuit, and what a screen shows over it. */
export { drawCircuit } from './draw-circuit.ts';
export type {
  Drawing,
  DrawnLine,
  DrawnPoint,
  DrawnSymbol,
  DrawnWire,
  Label,
  Pin,
  SymbolName,
} from './drawing.ts';
export {
  type Level,
  type ShownCircuit,
  type ShownNode,
  type ShownPart,
  showCircuit,
} from './show-circuit.ts';
