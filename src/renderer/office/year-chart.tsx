import { Bar, BarChart, CartesianGrid, XAxis, YAxis } from 'recharts';
import type { OutputOf } from '../../api/contract.ts';
import { bar, ChartFrame, line, soft } from './chart-frame.tsx';
import { monthNames } from './report-words.ts';

type Year = OutputOf<'patterns.trend'>['year'];

/** The season: concerns per 100 visits in the Januaries, the Februaries and so on. */
export function YearChart({ year, title }: { year: Year; title: string }) {
  const data = year.map((month) => ({ ...month, text: (monthNames[month.month - 1] ?? '').slice(0, 3) }));
  return (
    <ChartFrame
      caption={`${title}: concerns per 100 visits, by month of the year`}
      height={240}
      signs={['bars: per 100 visits']}
    >
      {(size) => (
        <BarChart
          {...size}
          data={data}
          margin={{ top: 8, right: 16, bottom: 8, left: 0 }}
          accessibilityLayer={false}
        >
          <CartesianGrid stroke={line} vertical={false} />
          <XAxis dataKey="text" stroke={soft} interval="preserveStartEnd" />
          <YAxis domain={[0, 'auto']} width={48} stroke={soft} />
          <Bar dataKey="per100" fill={bar} stroke={soft} isAnimationActive={false} />
        </BarChart>
      )}
    </ChartFrame>
  );
}
