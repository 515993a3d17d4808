import { CartesianGrid, ComposedChart, Line, Scatter, XAxis, YAxis } from 'recharts';
import type { OutputOf } from '../../api/contract.ts';
import { ChartFrame, copper, ink, line, soft } from './chart-frame.tsx';
import { monthText } from './report-words.ts';

type Trend = OutputOf<'patterns.trend'>;

/** Months as points per 100 visits; limits only where the numbers carry them. */
export function MonthChart({ trend }: { trend: Trend }) {
  const data = trend.months.map((month) => ({
    ...month,
    text: monthText(month.month),
    center: trend.center,
    out: month.isOut ? month.per100 : null,
  }));
  return (
    <ChartFrame
      caption={`${trend.title}: concerns per 100 visits, month by month`}
      height={300}
      signs={[
        'line with dots: the months',
        'thin line: center',
        ...(trend.hasLimits ? ['dashed lines: limits of chance', 'diamonds: outside of them'] : []),
      ]}
    >
      {(size) => (
        <ComposedChart
          {...size}
          data={data}
          margin={{ top: 8, right: 24, bottom: 8, left: 0 }}
          accessibilityLayer={false}
        >
          <CartesianGrid stroke={line} vertical={false} />
          <XAxis dataKey="text" stroke={soft} minTickGap={24} />
          <YAxis domain={[0, 'auto']} width={48} stroke={soft} />
          <Line dataKey="center" stroke={soft} dot={false} isAnimationActive={false} />
          <Line
            dataKey="low"
            stroke={soft}
            strokeDasharray="6 4"
            type="stepAfter"
            dot={false}
            isAnimationActive={false}
          />
          <Line
            dataKey="high"
            stroke={soft}
            strokeDasharray="6 4"
            type="stepAfter"
            dot={false}
            isAnimationActive={false}
          />
          <Line
            dataKey="per100"
            stroke={ink}
            strokeWidth={2}
            dot={{ r: 3, fill: ink }}
            isAnimationActive={false}
          />
          <Scatter dataKey="out" fill={copper} shape="diamond" isAnimationActive={false} />
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
