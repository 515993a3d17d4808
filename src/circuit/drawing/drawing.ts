/** What a drawing of a circuit is made of. Lengths are drawing units; a grid step of a layout is 10 of them. */

export type SymbolName =
  | 'battery'
  | 'fuse'
  | 'switch'
  | 'thermo-switch'
  | 'lamp'
  | 'relay-coil'
  | 'relay-contact'
  | 'motor'
  | 'resistor'
  | 'variable-resistor'
  | 'reactance'
  | 'sensor'
  | 'horn'
  | 'diode'
  | 'zener'
  | 'generator'
  | 'limiter'
  | 'flasher'
  | 'box';

export type Turn = 0 | 90 | 180 | 270;
export type Spot = readonly [x: number, y: number];
export type Anchor = 'start' | 'middle' | 'end';

export interface Label {
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
  /** The words, broken so that they fit beside the symbol. */
  readonly lines: readonly string[];
}

export interface Pin {
  readonly node: string;
  readonly x: number;
  readonly y: number;
  readonly side: Side;
  readonly label: string;
}

export type Side = 'top' | 'bottom' | 'left' | 'right';

export interface DrawnSymbol {
  /** Component id, with the way behind a dot where a component has several symbols: starter-relay.coil. */
  readonly id: string;
  readonly component: string;
  readonly symbol: SymbolName;
  readonly title: string;
  /** Center. The first pole points up at turn 0, and to the right at 90. */
  readonly x: number;
  readonly y: number;
  readonly turn: Turn;
  /** From pole to pole; of a box its height. */
  readonly length: number;
  /** Of a box. */
  readonly width?: number;
  readonly pins?: readonly Pin[];
  readonly label: Label;
  /** Terminal marks beside the poles. */
  readonly terminals: readonly {
    readonly x: number;
    readonly y: number;
    readonly anchor: Anchor;
    readonly text: string;
  }[];
  /** Nodes of first and second pole. */
  readonly nodes: readonly string[];
}

/** A wire of the circuit: something that can break. */
export interface DrawnWire {
  readonly component: string;
  readonly title: string;
  readonly color?: string;
  readonly nodes: readonly [string, string];
  readonly path: readonly Spot[];
  readonly label: Label;
}

/** The joint that a node is where several things meet; it has no resistance and no name of its own. */
export interface DrawnLine {
  readonly node: string;
  readonly path: readonly Spot[];
}

export interface DrawnPoint {
  readonly id: string;
  readonly node: string;
  readonly title: string;
  readonly where?: string;
  readonly electronic: boolean;
  readonly x: number;
  readonly y: number;
  /** Where the volts are written. */
  readonly label: Omit<Label, 'lines'>;
}

export interface Drawing {
  readonly circuitId: string;
  readonly title: string;
  readonly width: number;
  readonly height: number;
  readonly symbols: readonly DrawnSymbol[];
  readonly wires: readonly DrawnWire[];
  readonly lines: readonly DrawnLine[];
  /** Where three or more lines of a node meet. */
  readonly dots: readonly { readonly node: string; readonly x: number; readonly y: number }[];
  readonly points: readonly DrawnPoint[];
  /** The dashed line between a relay's coil and its contact. */
  readonly links: readonly { readonly component: string; readonly path: readonly Spot[] }[];
  /** The reference node, drawn with the ground symbol here. */
  readonly ground: readonly { readonly node: string; readonly x: number; readonly y: number }[];
}
