/** How each component kind appears: as a wire, as symbols with two poles, or as a box with pins. */
import type { Component } from '../circuit-form.ts';
import { terminalsOf } from '../terminals.ts';
import type { SymbolName } from './drawing.ts';

/** One part of a drawing with two poles. */
export interface DrawnPart {
  /** id, or id.coil … */
  readonly id: string;
  readonly component: Component;
  readonly symbol: SymbolName | 'wire';
  readonly nodes: readonly [string, string];
  /** Terminal marks of first and second pole (DIN 72552), where the circuit gives them. */
  readonly marks: readonly [string, string];
}

const symbols: Readonly<Record<string, SymbolName | 'wire'>> = {
  battery: 'battery',
  wire: 'wire',
  fuse: 'fuse',
  switch: 'switch',
  'thermo-switch': 'thermo-switch',
  lamp: 'lamp',
  motor: 'motor',
  resistor: 'resistor',
  horn: 'horn',
  diode: 'diode',
  zener: 'zener',
  stator: 'generator',
  'shunt-regulator': 'limiter',
  flasher: 'flasher',
  sensor: 'sensor',
  'variable-resistor': 'variable-resistor',
};

/** The two-poled parts of a component; none for a kind with more connections, which is drawn as a box. */
export function drawnParts(component: Component): readonly DrawnPart[] {
  const ends = terminalsOf(component);
  const mark = (name: string): string => {
    const { terminal } = component;
    if (typeof terminal !== 'object') return '';
    const own = terminal[name];
    return own === undefined ? '' : String(own);
  };
  const pair = (id: string, symbol: SymbolName | 'wire', first: string, second: string): DrawnPart[] => {
    const [a, b] = [ends.find(({ name }) => name === first), ends.find(({ name }) => name === second)];
    return a && b
      ? [{ id, component, symbol, nodes: [a.node, b.node], marks: [mark(first), mark(second)] }]
      : [];
  };
  if (component.kind === 'relay') {
    return [
      ...pair(`${component.id}.coil`, 'relay-coil', 'coil-1', 'coil-2'),
      ...pair(`${component.id}.contact`, 'relay-contact', 'contact-1', 'contact-2'),
      ...pair(`${component.id}.rest-contact`, 'relay-contact', 'rest-contact-1', 'rest-contact-2'),
    ];
  }
  const symbol = component.role === 'reactance' ? 'reactance' : symbols[component.kind];
  const [a, b] = ends;
  if (!symbol || !a || !b || ends.length !== 2) return [];
  return pair(component.id, symbol, a.name, b.name);
}

/** Grid steps from pole to pole. */
export function standardLength(symbol: SymbolName | 'wire'): number {
  return symbol === 'wire' ? 3 : symbol === 'motor' || symbol === 'generator' ? 6 : 5;
}

/** A title broken into lines of about `most` letters. */
export function brokenTitle(title: string, most: number): string[] {
  const lines: string[] = [];
  for (const word of title.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= most)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
