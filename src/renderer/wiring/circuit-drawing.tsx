import type { CircuitDraw } from '../../api/contract.ts';
import styles from './circuit-drawing.module.css';
import { CircuitSymbol } from './circuit-symbol.tsx';
import { shortFault, shortVolts, signWords } from './volts-words.ts';

export interface Marks {
  readonly lead?: string;
  readonly tip?: string;
  /** Component an ammeter goes around. */
  readonly around?: string;
  /** The point a person looks at. */
  readonly chosen?: string;
}

interface Props {
  draw: CircuitDraw;
  marks: Marks;
  scale: number;
  /** Id of the element that says the same in words. */
  describedBy: string;
}

const pathOf = (path: readonly (readonly [number, number])[]): string =>
  path.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${x} ${y}`).join('');

/** The drawing itself: lines by how live they are, symbols, volts at the points, lead and tip of the check. */
export function CircuitPicture({ draw, marks, scale, describedBy }: Props) {
  const { drawing, state } = draw;
  const level = (node: string | undefined) => (node === undefined ? undefined : state.nodes[node]?.level);
  return (
    <svg
      className={styles.picture}
      width={drawing.width * scale}
      height={drawing.height * scale}
      viewBox={`0 0 ${drawing.width} ${drawing.height}`}
      role="img"
      aria-label={`Wiring: ${drawing.title}`}
      aria-describedby={describedBy}
    >
      {drawing.links.map((link) => (
        <path key={link.component} className={styles.link} d={pathOf(link.path)} />
      ))}
      {drawing.lines.map((line) => (
        <path
          key={`${line.node} ${pathOf(line.path)}`}
          className={styles.wire}
          data-level={level(line.node)}
          d={pathOf(line.path)}
        />
      ))}
      {drawing.wires.map((wire) => (
        <Wire key={wire.component} wire={wire} draw={draw} isMarked={marks.around === wire.component} />
      ))}
      {drawing.dots.map((dot) => (
        <circle key={`${dot.node} ${dot.x} ${dot.y}`} className={styles.dot} cx={dot.x} cy={dot.y} r="3" />
      ))}
      {drawing.ground.map(({ node, x, y }) => (
        <path key={node} className={styles.ground} d={`M${x} ${y}v6m-9 0h18m-15 4h12m-9 4h6`} />
      ))}
      {drawing.symbols.map((symbol) => (
        <CircuitSymbol
          key={symbol.id}
          symbol={symbol}
          part={state.parts[symbol.id]}
          levels={symbol.nodes.map(level)}
        />
      ))}
      {drawing.symbols.map((symbol) => (
        <Name key={symbol.id} symbol={symbol} draw={draw} isMarked={marks.around === symbol.component} />
      ))}
      <Points draw={draw} marks={marks} />
    </svg>
  );
}

type Draw = { draw: CircuitDraw };

/** Two halves, each as live as its end: where the wire is broken the difference stands in the middle. */
function Wire({
  wire,
  draw,
  isMarked,
}: Draw & { wire: CircuitDraw['drawing']['wires'][number]; isMarked: boolean }) {
  const part = draw.state.parts[wire.component];
  const [a, b] = [wire.path[0], wire.path[wire.path.length - 1]];
  if (!a || !b) return null;
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const isAcross = a[1] === b[1];
  return (
    <g data-out={part?.out ? '' : undefined} className={styles.symbol}>
      <path
        className={styles.wire}
        data-level={draw.state.nodes[wire.nodes[0]]?.level}
        d={`M${a[0]} ${a[1]}L${x} ${y}`}
      />
      <path
        className={styles.wire}
        data-level={draw.state.nodes[wire.nodes[1]]?.level}
        d={`M${x} ${y}L${b[0]} ${b[1]}`}
      />
      {part?.fault ? <circle className={styles.faulty} cx={x} cy={y} r="11" /> : null}
      {part?.broken ? <path className={styles.broken} d={`M${x - 6} ${y - 6}l12 12m0 -12l-12 12`} /> : null}
      {isMarked ? <circle className={styles.probe} cx={x} cy={y} r="10" /> : null}
      {wire.label.lines.length > 0 || part?.fault ? (
        <text
          className={styles.color}
          x={wire.label.x + (part?.fault ? 8 : 0)}
          y={wire.label.y}
          textAnchor={wire.label.anchor}
        >
          {wire.color}
          {part?.fault ? (
            <tspan className={styles.word} x={wire.label.x + (isAcross ? 0 : 8)} dy={wire.color ? 13 : 0}>
              {shortFault(part.fault)}
            </tspan>
          ) : null}
        </text>
      ) : null}
      <title>{`${wire.title}${wire.color ? `, ${wire.color}` : ''}`}</title>
    </g>
  );
}

function Name({
  symbol,
  draw,
  isMarked,
}: Draw & { symbol: CircuitDraw['drawing']['symbols'][number]; isMarked: boolean }) {
  const { label } = symbol;
  const part = draw.state.parts[symbol.id];
  const isContact = symbol.symbol === 'relay-contact';
  const isBox = symbol.symbol === 'box';
  const extra = isContact
    ? []
    : [
        ...(part?.word ? [signWords(part.word, part.healthy === undefined)] : []),
        ...(part?.fault ? [shortFault(part.fault)] : []),
      ];
  return (
    <>
      <text className={styles.name} x={label.x} y={label.y} textAnchor={label.anchor}>
        {label.lines.map((words, k) => (
          <tspan key={words} x={label.x} dy={k === 0 ? 0 : 13}>
            {words}
          </tspan>
        ))}
        {extra.map((words) => (
          <tspan key={words} className={styles.word} x={label.x} dy={isBox ? 15 : 13}>
            {words}
          </tspan>
        ))}
      </text>
      {symbol.terminals.map((mark) => (
        <text
          key={`${mark.x} ${mark.y}`}
          className={styles.mark}
          x={mark.x}
          y={mark.y}
          textAnchor={mark.anchor}
        >
          {mark.text}
        </text>
      ))}
      {isMarked ? <circle className={styles.probe} cx={symbol.x} cy={symbol.y} r="24" /> : null}
    </>
  );
}

function Points({ draw, marks }: Draw & { marks: Marks }) {
  const { drawing, state } = draw;
  const ends = [
    { end: 'tip', id: marks.tip },
    { end: 'lead', id: marks.lead },
  ];
  const held = (id: string, node: string) => ends.find((each) => each.id === id || each.id === node);
  const probed = drawing.points.filter(({ id, node }) => held(id, node));
  // Of the two, the lower one's word stands below its ring, so that the part between them keeps its name.
  const lowest = Math.max(...probed.map(({ y }) => y));
  const isPair = probed.some(({ y }) => y !== lowest);
  const taken = new Set<string>();
  return drawing.points.map((point) => {
    const probe = held(point.id, point.node);
    const isDoubled = taken.has(`${point.x} ${point.y}`);
    taken.add(`${point.x} ${point.y}`);
    const isChosen = marks.chosen === point.id;
    return (
      <g key={point.id}>
        <circle
          className={probe || isChosen ? styles.probe : styles.point}
          data-electronic={point.electronic ? '' : undefined}
          cx={point.x}
          cy={point.y}
          r={probe || isChosen ? 8 : 3.4}
        />
        {isDoubled ? null : (
          <text
            className={styles.volts}
            data-level={state.nodes[point.node]?.level}
            x={point.label.x}
            y={point.label.y}
            textAnchor={point.label.anchor}
          >
            {shortVolts(state.nodes[point.node])}
          </text>
        )}
        {probe ? (
          <text
            className={styles.flag}
            x={point.x + 12}
            y={isPair && point.y === lowest ? point.y + 15 : point.y - 8}
          >
            {probe.end}
          </text>
        ) : null}
        <title>{`${point.title}: ${shortVolts(state.nodes[point.node])} V`}</title>
      </g>
    );
  });
}
