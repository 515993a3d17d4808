import type { Circuit } from '../circuit-form.ts';
import { nodesOf, terminalsOf } from '../terminals.ts';
import { drawnParts, standardLength } from './drawn-parts.ts';
import type { Layout } from './layout-form.ts';

const COLUMN = 9;

/**
 * A layout for a circuit that brings none: every node a rail across, ground lowest, the others by their distance from
 * the battery's positive side, and every part in a column of its own between its two rails.
 */
export function plainLayout(circuit: Circuit): Layout {
  const order = rankedNodes(circuit);
  const rails = Object.fromEntries(order.map((node, k) => [node, 4 + 8 * k]));
  const height = (node: string): number => rails[node] ?? 4;
  const parts = circuit.components.flatMap(drawnParts);
  const paths = parts.map((part, k) => {
    const [a, b] = part.nodes;
    const [from, to] = height(a) <= height(b) ? [a, b] : [b, a];
    const room = Math.max(height(to) - height(from), standardLength(part.symbol));
    return {
      x: 4 + COLUMN * k,
      y: height(from),
      from,
      parts: [part.id],
      lengths: { [part.id]: part.symbol === 'wire' ? room : standardLength(part.symbol) },
    };
  });
  const boxes: NonNullable<Layout['boxes']> = {};
  let x = 4 + COLUMN * parts.length;
  const lowest = 4 + 8 * order.length;
  for (const component of circuit.components) {
    if (drawnParts(component).length > 0) continue;
    const nodes = [...new Set(terminalsOf(component).map(({ node }) => node))];
    const width = Math.max(8, 3 * nodes.length + 1);
    const pins = Object.fromEntries(nodes.map((node, k) => [node, ['top', 2 + 3 * k] as ['top', number]]));
    boxes[component.id] = { at: [x, lowest], size: [width, 6], pins };
    x += width + 3;
  }
  return { rails, boxes, paths };
}

function rankedNodes(circuit: Circuit): string[] {
  const nodes = nodesOf(circuit).filter((node) => node !== circuit.ground);
  const source = circuit.components.find(({ kind }) => kind === 'battery' || kind.includes('stator'));
  const start = source ? terminalsOf(source)[0]?.node : nodes[0];
  const distance = new Map<string, number>(start === undefined ? [] : [[start, 0]]);
  for (const node of distance.keys()) {
    for (const component of circuit.components) {
      const ends = terminalsOf(component).map((end) => end.node);
      if (!ends.includes(node)) continue;
      for (const next of ends) {
        // The way over ground would put everything at distance two.
        if (next !== circuit.ground && !distance.has(next)) distance.set(next, (distance.get(node) ?? 0) + 1);
      }
    }
  }
  const far = nodes.length;
  return [...nodes.sort((a, b) => (distance.get(a) ?? far) - (distance.get(b) ?? far)), circuit.ground];
}
