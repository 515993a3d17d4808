import type { Circuit } from '../circuit-form.ts';
import type { Drawing, DrawnLine, DrawnPoint, Spot } from './drawing.ts';
import type { Layout } from './layout-form.ts';
import { GRID, type Placed, spotKey } from './place-parts.ts';

type Segment = readonly [Spot, Spot];

/** Draws every node as one line across (its rail, or the height of its first spot) that its spots drop to. */
export function joinNodes(placed: Placed, layout: Layout): Pick<Drawing, 'lines' | 'dots'> {
  const lines: DrawnLine[] = [];
  const dots: { node: string; x: number; y: number }[] = [];
  for (const [node, spots] of placed.spots) {
    const rail = layout.rails?.[node];
    const [first] = spots;
    if (!first || (spots.length === 1 && rail === undefined)) continue;
    const y = rail === undefined ? first[1] : rail * GRID;
    const columns = [...new Set(spots.map(([x]) => x))].sort((a, b) => a - b);
    const drops = spots.filter((spot) => spot[1] !== y).map((spot): Segment => [spot, [spot[0], y]]);
    const across = columns.slice(1).map(
      (x, k): Segment => [
        [columns[k] as number, y],
        [x, y],
      ],
    );
    for (const drop of drops) lines.push({ node, path: drop });
    const [from, to] = [columns[0] as number, columns[columns.length - 1] as number];
    if (across.length > 0)
      lines.push({
        node,
        path: [
          [from, y],
          [to, y],
        ],
      });
    for (const { x, y: height } of crowded([...drops, ...across], placed, node))
      dots.push({ node, x, y: height });
  }
  return { lines, dots };
}

/** Spots where three or more ends meet; ends of parts count. */
function crowded(segments: readonly Segment[], placed: Placed, node: string): { x: number; y: number }[] {
  const count = new Map<string, { x: number; y: number; ends: number }>();
  const add = ([x, y]: Spot) => {
    const own = count.get(spotKey([x, y])) ?? { x, y, ends: 0 };
    count.set(spotKey([x, y]), { x, y, ends: own.ends + 1 });
  };
  for (const segment of segments) for (const end of segment) add(end);
  for (const { nodes, path } of placed.wires) {
    const [a, b] = [path[0], path[path.length - 1]];
    if (a && nodes[0] === node) add(a);
    if (b && nodes[1] === node) add(b);
  }
  for (const symbol of placed.symbols) {
    for (const pin of symbol.pins ?? []) if (pin.node === node) add([pin.x, pin.y]);
    if (symbol.pins) continue;
    for (const [k, own] of symbol.nodes.entries()) {
      if (own === node) add(poleOf(symbol, k));
    }
  }
  return [...count.values()].filter(({ ends }) => ends >= 3);
}

function poleOf(symbol: { x: number; y: number; turn: number; length: number }, k: number): Spot {
  const half = (k === 0 ? -1 : 1) * (symbol.length / 2);
  const angle = (symbol.turn * Math.PI) / 180;
  return [Math.round(symbol.x - half * Math.sin(angle)), Math.round(symbol.y + half * Math.cos(angle))];
}

/** Probe points at the place where their node stands first; several of one node share a spot. */
export function placePoints(circuit: Circuit, placed: Placed): DrawnPoint[] {
  return Object.entries(circuit.points).flatMap(([id, point]) => {
    const spot = placed.spots.get(point.node)?.[0];
    if (!spot) return [];
    const [x, y] = spot;
    const label = voltsLabel(placed, spot);
    const isElectronic = point.electronic === true || circuit.nodes[point.node]?.electronic === true;
    return [
      {
        id,
        node: point.node,
        title: point.title,
        ...(point.where === undefined ? {} : { where: point.where }),
        electronic: isElectronic,
        x,
        y,
        label,
      },
    ];
  });
}

/** The volts stand on the other side than the names; at the pin of a box outside of it. */
function voltsLabel(placed: Placed, spot: Spot): DrawnPoint['label'] {
  const [x, y] = spot;
  const pin = placed.symbols.flatMap(({ pins }) => pins ?? []).find((each) => each.x === x && each.y === y);
  if (pin?.side === 'top') return { x: x - 6, y: y - 5, anchor: 'end' };
  if (pin?.side === 'bottom') return { x: x - 6, y: y + 13, anchor: 'end' };
  if (pin?.side === 'left') return { x: x - 6, y: y - 6, anchor: 'end' };
  if (pin) return { x: x + 6, y: y - 6, anchor: 'start' };
  const names = placed.sides.get(spotKey(spot)) ?? 'right';
  if (names === 'right') return { x: x - 7, y: y + 4, anchor: 'end' };
  if (names === 'left') return { x: x + 7, y: y + 4, anchor: 'start' };
  return { x, y: names === 'above' ? y + 18 : y - 8, anchor: 'middle' };
}
