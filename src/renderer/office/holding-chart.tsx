import { CartesianGrid, Line, LineChart, XAxis, YAxis } from 'recharts';
import type { CurveStep } from '../../api/contract.ts';
import { ChartFrame, copper, ink, line, soft } from './chart-frame.tsx';

interface Props {
  title: string;
  chosen: readonly CurveStep[];
  restTitle: string | null;
  rest: readonly CurveStep[];
  windowDays: number;
}

/** The steps as points, from all on the first day to the end of the window. */
function points(steps: readonly CurveStep[], windowDays: number): { days: number; percent: number }[] {
  const last = steps.at(-1)?.lasts ?? 1;
  return [
    { days: 0, percent: 100 },
    ...steps.map((step) => ({ days: step.days, percent: step.lasts * 100 })),
    { days: windowDays, percent: last * 100 },
  ];
}

/** How many repairs still hold after so many days. */
export function HoldingChart({ title, chosen, restTitle, rest, windowDays }: Props) {
  return (
    <ChartFrame
      caption="Share of repairs that still hold, by days since the repair (Kaplan–Meier)"
      height={300}
      signs={[`thick line: ${title}`, ...(restTitle ? [`dashed line: ${restTitle}`] : [])]}
    >
      {(size) => (
        <LineChart {...size} margin={{ top: 8, right: 24, bottom: 8, left: 0 }} accessibilityLayer={false}>
          <CartesianGrid stroke={line} />
          <XAxis
            dataKey="days"
            type="number"
            domain={[0, windowDays]}
            allowDuplicatedCategory={false}
            unit=" d"
            stroke={soft}
          />
          <YAxis domain={[0, 100]} unit=" %" width={64} stroke={soft} />
          {restTitle ? (
            <Line
              data={points(rest, windowDays)}
              dataKey="percent"
              type="stepAfter"
              stroke={ink}
              strokeWidth={2}
              strokeDasharray="6 4"
              dot={false}
              isAnimationActive={false}
            />
          ) : null}
          <Line
            data={points(chosen, windowDays)}
            dataKey="percent"
            type="stepAfter"
            stroke={copper}
            strokeWidth={4}
            dot={false}
            isAnimationActive={false}
          />
        </LineChart>
      )}
    </ChartFrame>
  );
}
