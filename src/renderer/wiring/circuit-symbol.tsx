import type { CircuitDrawing, CircuitState } from '../../api/contract.ts';
import styles from './circuit-drawing.module.css';

type Symbol = CircuitDrawing['symbols'][number];
type Part = CircuitState['parts'][string];

/** Half of the body's length along the line, from which the leads go on to the poles. */
const halfBody: Record<Symbol['symbol'], number> = {
  battery: 11,
  fuse: 14,
  switch: 11,
  'thermo-switch': 11,
  lamp: 11,
  'relay-coil': 9,
  'relay-contact': 11,
  motor: 17,
  resistor: 14,
  'variable-resistor': 14,
  reactance: 16,
  sensor: 14,
  horn: 11,
  diode: 9,
  zener: 9,
  generator: 17,
  limiter: 14,
  flasher: 14,
  box: 0,
};

/** A make contact: hinge below, blade across the gap or closed. */
function Contact({ isClosed, by }: { isClosed: boolean; by: 'hand' | 'heat' | 'relay' }) {
  return (
    <>
      <path className={styles.blade} d={isClosed ? 'M0 11V-11' : 'M0 11L-9 -10'} />
      {by === 'hand' ? (
        <path className={styles.fine} d={isClosed ? 'M0 0h-15m0-5v10' : 'M-5 0h-10m0-5v10'} />
      ) : null}
      {by === 'heat' ? <path className={styles.fine} d="M-22 -5h5v10h5v-5h8" /> : null}
    </>
  );
}

function Body({ symbol, part }: { symbol: Symbol['symbol']; part: Part | undefined }) {
  const isClosed = part?.closed ?? false;
  switch (symbol) {
    case 'battery':
      return (
        <>
          <path className={styles.thin} d="M-16 -11h32M-16 3h32" />
          <path className={styles.thick} d="M-9 -4h18M-9 11h18" />
        </>
      );
    case 'fuse':
      return (
        <>
          <rect className={styles.body} x="-6" y="-14" width="12" height="28" />
          <path className={styles.thin} d="M0 -14v28" />
        </>
      );
    case 'switch':
      return <Contact isClosed={isClosed} by="hand" />;
    case 'thermo-switch':
      return <Contact isClosed={isClosed} by="heat" />;
    case 'relay-contact':
      return <Contact isClosed={isClosed} by="relay" />;
    case 'lamp':
      return (
        <>
          {part?.word === 'bright' || part?.word === 'dim' ? (
            <path
              className={part.word === 'bright' ? styles.rays : styles.faintRays}
              d="M0 -15v-5M0 15v5M-15 0h-5M15 0h5M-11 -11l-4 -4M11 -11l4 -4M-11 11l-4 4M11 11l4 4"
            />
          ) : null}
          <circle
            className={styles.body}
            data-lit={part?.word === 'bright' || part?.word === 'dim' ? part.word : undefined}
            r="11"
          />
          <path className={styles.thin} d="M-7.8 -7.8L7.8 7.8M-7.8 7.8L7.8 -7.8" />
        </>
      );
    case 'relay-coil':
      return (
        <>
          <rect
            className={styles.body}
            x="-17"
            y="-9"
            width="34"
            height="18"
            data-lit={part?.word === 'in' ? 'bright' : undefined}
          />
          <path className={styles.fine} d="M-17 9L17 -9" />
        </>
      );
    case 'motor':
    case 'generator':
      return <circle className={styles.body} r="17" />;
    case 'horn':
      return <path className={styles.body} d="M-7 -11h9v22h-9zM2 -5l10 -8v26l-10 -8z" />;
    case 'diode':
    case 'zener':
      return (
        <>
          <path className={styles.body} d="M-9 -9h18L0 9z" />
          <path className={styles.thin} d={symbol === 'zener' ? 'M-13 5l4 4h18l4 4' : 'M-9 9h18'} />
        </>
      );
    case 'reactance':
      return (
        <path className={styles.thin} d="M0 -16a4 4 0 0 1 0 8a4 4 0 0 1 0 8a4 4 0 0 1 0 8a4 4 0 0 1 0 8" />
      );
    case 'limiter':
      return (
        <>
          <rect className={styles.body} x="-14" y="-14" width="28" height="28" />
          <path className={styles.thin} d="M-7 -5h5v10h9M-7 -9h14" />
        </>
      );
    case 'flasher':
      return (
        <>
          <rect className={styles.body} x="-14" y="-14" width="28" height="28" />
          <path className={styles.thin} d="M-9 5h4v-10h5v10h5v-10h4" />
        </>
      );
    default:
      return (
        <>
          <rect className={styles.body} x="-6" y="-14" width="12" height="28" />
          {symbol === 'variable-resistor' ? (
            <path className={styles.fine} d="M-12 12L12 -12m-6 1l6 -1l-1 6" />
          ) : null}
          {symbol === 'sensor' ? <path className={styles.fine} d="M-13 12h5L11 -12" /> : null}
        </>
      );
  }
}

/** Letters stay upright however the symbol is turned. */
function Letters({ symbol }: { symbol: Symbol['symbol'] }) {
  const text = symbol === 'motor' ? 'M' : symbol === 'generator' ? 'G∿' : null;
  return text ? (
    <text className={styles.letter} textAnchor="middle" y="5">
      {text}
    </text>
  ) : null;
}

interface Props {
  symbol: Symbol;
  part: Part | undefined;
  /** How live the first and the second pole are. */
  levels: readonly (string | undefined)[];
}

/** One symbol with the leads to its poles. */
export function CircuitSymbol({ symbol, part, levels }: Props) {
  const { x, y, turn, length } = symbol;
  if (symbol.symbol === 'box') return <Box symbol={symbol} />;
  const half = halfBody[symbol.symbol];
  return (
    <g
      transform={`translate(${x} ${y})`}
      data-out={part?.out ? '' : undefined}
      data-fault={part?.fault ? '' : undefined}
      className={styles.symbol}
    >
      <g transform={`rotate(${turn})`}>
        <path className={styles.wire} data-level={levels[0]} d={`M0 ${-length / 2}V${-half}`} />
        <path className={styles.wire} data-level={levels[1]} d={`M0 ${half}V${length / 2}`} />
        {part?.fault ? (
          <rect className={styles.faulty} x="-22" y={-length / 2 + 2} width="44" height={length - 4} />
        ) : null}
        <Body symbol={symbol.symbol} part={part} />
        {part?.broken ? <path className={styles.broken} d="M-7 -7L7 7M-7 7L7 -7" /> : null}
      </g>
      <Letters symbol={symbol.symbol} />
    </g>
  );
}

const inside = {
  top: { x: 0, y: 12, anchor: 'middle' },
  bottom: { x: 0, y: -5, anchor: 'middle' },
  left: { x: 5, y: 4, anchor: 'start' },
  right: { x: -5, y: 4, anchor: 'end' },
} as const;

function Box({ symbol }: { symbol: Symbol }) {
  const { x, y, length, width = 0, pins = [] } = symbol;
  return (
    <g>
      <rect className={styles.body} x={x - width / 2} y={y - length / 2} width={width} height={length} />
      {pins.map((pin) => (
        <text
          key={pin.node}
          className={styles.mark}
          x={pin.x + inside[pin.side].x}
          y={pin.y + inside[pin.side].y}
          textAnchor={inside[pin.side].anchor}
        >
          {pin.label}
        </text>
      ))}
    </g>
  );
}
