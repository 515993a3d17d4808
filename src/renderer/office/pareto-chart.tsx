import { Bar, CartesianGrid, ComposedChart, Line, XAxis, YAxis } from 'recharts';
import { bar, ChartFrame, ink, line, soft } from './chart-frame.tsx';

interface Row {
  readonly title: string;
  readonly concerns: number;
  /** 0 to 1. */
  readonly cumulative: number;
}

const most = 12;
const longest = 25;
const shortened = (title: string): string =>
  title.length > longest ? `${title.slice(0, longest - 1).trimEnd()}…` : title;

/** The name of a bar on one line; the chart's own would be broken over the next bar. */
function Name({ x, y, payload }: { x?: number; y?: number; payload?: { value: string } }) {
  return (
    <text x={x} y={y} dy="0.35em" textAnchor="end" fill={ink}>
      {shortened(payload?.value ?? '')}
    </text>
  );
}

/** The few that make the many: bars from the most to the fewest, and the line of the sums. */
export function ParetoChart({ rows, caption }: { rows: readonly Row[]; caption: string }) {
  const shown = rows.slice(0, most).map((row) => ({ ...row, percent: row.cumulative * 100 }));
  return (
    <ChartFrame
      caption={caption}
      height={40 + 30 * shown.length + 44}
      signs={['bars: concerns (lower axis)', 'line with dots: with all above it, % (upper axis)']}
    >
      {(size) => (
        <ComposedChart
          {...size}
          data={shown}
          layout="vertical"
          margin={{ top: 8, right: 24, bottom: 8, left: 8 }}
          accessibilityLayer={false}
        >
          <CartesianGrid stroke={line} horizontal={false} />
          <YAxis
            type="category"
            dataKey="title"
            width={180}
            tick={<Name />}
            interval={0}
            stroke={soft}
            tickLine={false}
          />
          <XAxis xAxisId="count" type="number" domain={[0, 'auto']} allowDecimals={false} stroke={soft} />
          <XAxis
            xAxisId="percent"
            type="number"
            orientation="top"
            domain={[0, 100]}
            unit=" %"
            stroke={soft}
          />
          <Bar
            xAxisId="count"
            dataKey="concerns"
            fill={bar}
            stroke={soft}
            barSize={16}
            isAnimationActive={false}
          />
          <Line
            xAxisId="percent"
            dataKey="percent"
            stroke={ink}
            strokeWidth={2}
            dot={{ r: 3, fill: ink }}
            isAnimationActive={false}
          />
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
