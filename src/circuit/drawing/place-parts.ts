import { Problem, quoted } from '../../problem.ts';
import type { Circuit } from '../circuit-form.ts';
import { terminalsOf } from '../terminals.ts';
import type { DrawnSymbol, DrawnWire, Label, Pin, Spot, Turn } from './drawing.ts';
import { brokenTitle, type DrawnPart, drawnParts, standardLength } from './drawn-parts.ts';
import type { Layout, LayoutBox, LayoutPath } from './layout-form.ts';

export const GRID = 10;
const NAME_LETTERS = 10;
const LINE_HEIGHT = 13;

export interface Placed {
  readonly symbols: DrawnSymbol[];
  readonly wires: DrawnWire[];
  /** Where each node has come to stand, in the order of placing. */
  readonly spots: Map<string, Spot[]>;
  /** Side on which names stand at each spot, so that volts go to the other. */
  readonly sides: Map<string, 'left' | 'right' | 'above' | 'below'>;
}

type Run = NonNullable<LayoutPath['run']>;
const steps: Readonly<Record<Run, Spot>> = { down: [0, 1], up: [0, -1], right: [1, 0], left: [-1, 0] };
const turns: Readonly<Record<Run, Turn>> = { down: 0, up: 180, right: 270, left: 90 };

export const spotKey = ([x, y]: Spot): string => `${x},${y}`;

/** Puts every part of a layout on the grid. Problem `bad-circuit` names a part that is missing, twice, or out of line. */
export function placeParts(circuit: Circuit, layout: Layout): Placed {
  const parts = new Map(circuit.components.flatMap(drawnParts).map((part) => [part.id, part]));
  const placed: Placed = { symbols: [], wires: [], spots: new Map(), sides: new Map() };
  const done = new Set<string>();
  const once = (id: string, field: string) => {
    if (done.has(id)) throw layoutProblem(circuit, `${quoted(id)} is placed twice`, field);
    done.add(id);
  };
  for (const [id, box] of Object.entries(layout.boxes ?? {})) {
    once(id, `layout.boxes.${id}`);
    placeBox(circuit, id, box, layout, placed);
  }
  for (const [k, path] of layout.paths.entries()) {
    const field = `layout.paths[${k}]`;
    const chain = path.parts.map((id) => {
      const part = parts.get(id);
      if (!part) throw layoutProblem(circuit, `${quoted(id)} is no part with two ends`, `${field}.parts`);
      once(id, `${field}.parts`);
      return part;
    });
    placePath(circuit, path, chain, layout, placed, field);
  }
  for (const component of circuit.components) {
    const own = drawnParts(component);
    const missing = own.length === 0 ? [component.id] : own.map(({ id }) => id);
    const lacking = missing.find((id) => !done.has(id));
    if (lacking !== undefined)
      throw layoutProblem(circuit, `${quoted(lacking)} is not placed`, 'layout.paths');
  }
  return placed;
}

function layoutProblem(circuit: Circuit, what: string, field: string): Problem {
  return new Problem('bad-circuit', `The layout of circuit ${quoted(circuit.id)} cannot be drawn: ${what}.`, {
    field,
    id: circuit.id,
  });
}

function stand(placed: Placed, node: string, spot: Spot): void {
  const own = placed.spots.get(node) ?? [];
  if (!own.some((other) => spotKey(other) === spotKey(spot))) placed.spots.set(node, [...own, spot]);
}

function placeBox(circuit: Circuit, id: string, box: LayoutBox, layout: Layout, placed: Placed): void {
  const component = circuit.components.find((each) => each.id === id);
  if (!component) throw layoutProblem(circuit, `there is no component ${quoted(id)}`, `layout.boxes.${id}`);
  const ends = terminalsOf(component);
  const [left, top, width, height] = [...box.at, ...box.size].map((step) => step * GRID) as [
    number,
    number,
    number,
    number,
  ];
  const nodes = [...new Set(ends.map(({ node }) => node))];
  const pins = nodes.map((node): Pin => {
    const pin = box.pins[node];
    if (!pin)
      throw layoutProblem(
        circuit,
        `box ${quoted(id)} has no pin for ${quoted(node)}`,
        `layout.boxes.${id}.pins`,
      );
    const [side, along] = [pin[0], pin[1] * GRID];
    const x = side === 'left' ? left : side === 'right' ? left + width : left + along;
    const y = side === 'top' ? top : side === 'bottom' ? top + height : top + along;
    const terminal = ends.find((end) => end.node === node)?.name ?? '';
    return { node, x, y, side, label: pinWord(terminal) };
  });
  for (const pin of pins) stand(placed, pin.node, [pin.x, pin.y]);
  const title = component.title ?? id;
  placed.symbols.push({
    id,
    component: id,
    symbol: 'box',
    title,
    x: left + width / 2,
    y: top + height / 2,
    turn: 0,
    length: height,
    width,
    pins,
    label: ownLabel(layout, id, title) ?? {
      x: left + width / 2,
      y: top + height / 2 - (brokenTitle(title, Math.floor(width / 7)).length - 1) * (LINE_HEIGHT / 2),
      anchor: 'middle',
      lines: brokenTitle(title, Math.floor(width / 7)),
    },
    terminals: [],
    nodes,
  });
}

/** input-start → start, output-1 → out; the rest as the kind calls it. */
function pinWord(terminal: string): string {
  if (terminal === 'supply' || terminal === 'positive') return '+';
  if (terminal === 'return' || terminal === 'negative') return '−';
  if (terminal.startsWith('output')) return 'out';
  if (/^(ac|line)-\d$/.test(terminal)) return `∿${terminal.slice(-1)}`;
  return terminal.replace(/^input-/, '');
}

function ownLabel(layout: Layout, id: string, title: string): Label | undefined {
  const own = layout.names?.[id];
  return (
    own && { x: own[0] * GRID, y: own[1] * GRID, anchor: own[2], lines: brokenTitle(title, NAME_LETTERS) }
  );
}

function firstNode(chain: readonly DrawnPart[], path: LayoutPath): string | undefined {
  const [first, second] = chain;
  if (path.from !== undefined || !first) return path.from;
  if (!second) return first.nodes[0];
  return second.nodes.includes(first.nodes[0]) ? first.nodes[1] : first.nodes[0];
}

function placePath(
  circuit: Circuit,
  path: LayoutPath,
  chain: readonly DrawnPart[],
  layout: Layout,
  placed: Placed,
  field: string,
): void {
  let node = firstNode(chain, path);
  if (node === undefined) return;
  const run = path.run ?? 'down';
  const known = placed.spots.get(node)?.[0];
  const rail = layout.rails?.[node];
  const x = path.x === undefined ? known?.[0] : path.x * GRID;
  const y = path.y === undefined ? (rail === undefined ? known?.[1] : rail * GRID) : path.y * GRID;
  if (x === undefined || y === undefined) {
    throw layoutProblem(circuit, `a path needs x and y, since ${quoted(node)} is not placed yet`, field);
  }
  const isAcross = run === 'left' || run === 'right';
  const names = path.names ?? (isAcross ? 'below' : 'right');
  let at: Spot = [x, y];
  stand(placed, node, at);
  placed.sides.set(spotKey(at), names);
  for (const part of chain) {
    const [a, b] = part.nodes;
    if (node !== a && node !== b) {
      throw layoutProblem(circuit, `${quoted(part.id)} does not touch ${quoted(node)}`, `${field}.parts`);
    }
    const isForward: boolean = node === a;
    const next: string = isForward ? b : a;
    const length = (path.lengths?.[part.id] ?? standardLength(part.symbol)) * GRID;
    const [dx, dy] = steps[run];
    const end: Spot = [at[0] + dx * length, at[1] + dy * length];
    if (part.symbol === 'wire') placed.wires.push(drawnWire(part, isForward, at, end, names, layout));
    else placed.symbols.push(drawnSymbol(part, isForward, at, end, run, names, layout));
    stand(placed, next, end);
    placed.sides.set(spotKey(end), names);
    at = end;
    node = next;
  }
}

function labelBeside(
  middle: Spot,
  names: 'left' | 'right' | 'above' | 'below',
  lines: readonly string[],
  away: number,
): Label {
  const up = ((lines.length - 1) * LINE_HEIGHT) / 2;
  if (names === 'right') return { x: middle[0] + away, y: middle[1] + 4 - up, anchor: 'start', lines };
  if (names === 'left') return { x: middle[0] - away, y: middle[1] + 4 - up, anchor: 'end', lines };
  if (names === 'below') return { x: middle[0], y: middle[1] + away + 10, anchor: 'middle', lines };
  return { x: middle[0], y: middle[1] - away - 2 * up, anchor: 'middle', lines };
}

function drawnWire(
  part: DrawnPart,
  isForward: boolean,
  at: Spot,
  end: Spot,
  names: 'left' | 'right' | 'above' | 'below',
  layout: Layout,
): DrawnWire {
  const { component, nodes } = part;
  const middle: Spot = [(at[0] + end[0]) / 2, (at[1] + end[1]) / 2];
  const title = component.title ?? component.id;
  const words = component.color ? [component.color] : [];
  return {
    component: component.id,
    title,
    ...(component.color === undefined ? {} : { color: component.color }),
    nodes: [nodes[0], nodes[1]],
    path: isForward ? [at, end] : [end, at],
    label: { ...(ownLabel(layout, part.id, title) ?? labelBeside(middle, names, words, 6)), lines: words },
  };
}

const halfWidths: Readonly<Record<string, number>> = {
  motor: 20,
  generator: 20,
  lamp: 14,
  horn: 16,
  limiter: 17,
  flasher: 17,
  'relay-coil': 18,
  battery: 18,
};

function drawnSymbol(
  part: DrawnPart,
  isForward: boolean,
  at: Spot,
  end: Spot,
  run: Run,
  names: 'left' | 'right' | 'above' | 'below',
  layout: Layout,
): DrawnSymbol {
  const { component, symbol, nodes } = part;
  const middle: Spot = [(at[0] + end[0]) / 2, (at[1] + end[1]) / 2];
  const title = component.title ?? component.id;
  const turn = isForward ? turns[run] : (((turns[run] + 180) % 360) as Turn);
  // The dashed line to its coil names a contact; its own word stands clear of that line.
  const isContact = symbol === 'relay-contact';
  const words = isContact ? ['contact'] : brokenTitle(title, NAME_LETTERS);
  const away = isContact ? 22 : (halfWidths[symbol] ?? 12) + 4;
  const [first, second] = isForward ? [at, end] : [end, at];
  const isAcross = run === 'left' || run === 'right';
  const marks = [
    { spot: first, text: part.marks[0], other: second },
    { spot: second, text: part.marks[1], other: first },
  ];
  return {
    id: part.id,
    component: component.id,
    symbol: symbol === 'wire' ? 'box' : symbol,
    title,
    x: middle[0],
    y: middle[1],
    turn,
    length: Math.abs(end[0] - at[0]) + Math.abs(end[1] - at[1]),
    label:
      ownLabel(layout, part.id, title) ??
      labelBeside(isContact ? [middle[0], middle[1] - 14] : middle, names, words, away),
    terminals: marks.flatMap(({ spot, text, other }) => {
      if (!text) return [];
      const inward = isAcross ? Math.sign(other[0] - spot[0]) : Math.sign(other[1] - spot[1]);
      return [
        isAcross
          ? { x: spot[0] + inward * 8, y: spot[1] - 5, anchor: 'middle' as const, text }
          : { x: spot[0] + 4, y: spot[1] + inward * 8 + 3, anchor: 'start' as const, text },
      ];
    }),
    nodes: [...nodes],
  };
}
