import type { Circuit } from '../circuit-form.ts';
import type { Drawing, DrawnSymbol, Spot } from './drawing.ts';
import { joinNodes, placePoints } from './join-nodes.ts';
import { readLayout } from './layout-form.ts';
import { GRID, placeParts } from './place-parts.ts';
import { plainLayout } from './plain-layout.ts';

const LETTER = 6.2;

/**
 * Draws a circuit that readCircuit has accepted: by the layout of its file, else in a plain computed one. Nothing is
 * solved here; see showCircuit. Problem `bad-circuit` names what a layout misses or places twice.
 */
export function drawCircuit(circuit: Circuit): Drawing {
  const layout = readLayout(circuit) ?? plainLayout(circuit);
  const placed = placeParts(circuit, layout);
  const { lines, dots } = joinNodes(placed, layout);
  const points = placePoints(circuit, placed);
  const { symbols, wires } = placed;
  const groundSpot = groundOf(circuit, layout.rails?.[circuit.ground], placed.spots);
  const spots: Spot[] = [
    ...wires.flatMap(({ path }) => path),
    ...lines.flatMap(({ path }) => path),
    ...symbols.flatMap(({ x, y, width = 30, length, label }): Spot[] => [
      [x + width / 2, y + length / 2],
      [
        label.anchor === 'start' ? label.x + LETTER * longest(label.lines) : label.x,
        label.y + 13 * label.lines.length,
      ],
    ]),
    ...groundSpot.map(({ x, y }): Spot => [x, y + 14]),
  ];
  const [width, height] = layout.size
    ? [layout.size[0] * GRID, layout.size[1] * GRID]
    : [Math.max(...spots.map(([x]) => x)) + GRID, Math.max(...spots.map(([, y]) => y)) + GRID];
  return {
    circuitId: circuit.id,
    title: circuit.title,
    width,
    height,
    symbols,
    wires,
    lines,
    dots,
    points,
    links: relayLinks(symbols),
    ground: groundSpot,
  };
}

const longest = (lines: readonly string[]): number => Math.max(0, ...lines.map((line) => line.length));

function groundOf(circuit: Circuit, rail: number | undefined, spots: ReadonlyMap<string, readonly Spot[]>) {
  const own = spots.get(circuit.ground) ?? [];
  const first = own[0];
  if (!first) return [];
  // At the left end of the rail, where no column stands above it.
  const x = Math.min(...own.map(([column]) => column));
  return [{ node: circuit.ground, x, y: rail === undefined ? first[1] : rail * GRID }];
}

/** From the coil to each of its contacts, straight where they stand side by side, else around one corner. */
function relayLinks(symbols: readonly DrawnSymbol[]): Drawing['links'] {
  return symbols.flatMap((contact) => {
    if (contact.symbol !== 'relay-contact') return [];
    const coil = symbols.find((each) => each.symbol === 'relay-coil' && each.component === contact.component);
    if (!coil) return [];
    const side = contact.x < coil.x ? -1 : 1;
    const from: Spot = [coil.x + side * 18, coil.y];
    const to: Spot = [contact.x - side * 5, contact.y];
    const path: Spot[] =
      coil.y === contact.y
        ? [from, to]
        : [from, [(from[0] + to[0]) / 2, from[1]], [(from[0] + to[0]) / 2, to[1]], to];
    return [{ component: contact.component, path }];
  });
}
