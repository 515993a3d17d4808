import type { Circuit, Component } from './circuit-form.ts';
import type { Terminal } from './kind.ts';
import { kindOf } from './kinds/index.ts';

/** The terminals of a component in the order of its kind: name (positive, coil-1, contact-2 …) and node. */
export function terminalsOf(component: Component): readonly Terminal[] {
  return kindOf(component.kind).terminals(component);
}

/** Names of all nodes a probe can reach, ground first, then in the order of the components. */
export function nodesOf(circuit: Circuit): readonly string[] {
  return [
    ...new Set([
      circuit.ground,
      ...circuit.components.flatMap((component) => terminalsOf(component).map(({ node }) => node)),
    ]),
  ];
}
