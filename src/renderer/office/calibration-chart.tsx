import { CartesianGrid, ErrorBar, ReferenceLine, Scatter, ScatterChart, XAxis, YAxis } from 'recharts';
import type { OutputOf } from '../../api/contract.ts';
import { ChartFrame, ink, line, soft } from './chart-frame.tsx';

type Bin = OutputOf<'patterns.accuracy'>['bins'][number];

/** Chance shown against the share that held, with limits; on the dashed line the book means what it says. */
export function CalibrationChart({ bins }: { bins: readonly Bin[] }) {
  const data = bins.map((bin) => ({
    said: bin.meanChance * 100,
    held: bin.share * 100,
    reach: [(bin.share - bin.low) * 100, (bin.high - bin.share) * 100],
  }));
  return (
    <ChartFrame
      caption="Of the causes shown with a chance (below), how many held (left)"
      height={320}
      signs={['dots with bars: share that held, 95 % limits', 'dashed line: chance and share are the same']}
    >
      {(size) => (
        <ScatterChart {...size} margin={{ top: 8, right: 24, bottom: 8, left: 0 }} accessibilityLayer={false}>
          <CartesianGrid stroke={line} />
          <XAxis dataKey="said" type="number" domain={[0, 100]} unit=" %" stroke={soft} />
          <YAxis dataKey="held" type="number" domain={[0, 100]} unit=" %" width={64} stroke={soft} />
          <ReferenceLine
            segment={[
              { x: 0, y: 0 },
              { x: 100, y: 100 },
            ]}
            stroke={soft}
            strokeDasharray="6 4"
          />
          <Scatter data={data} fill={ink} isAnimationActive={false}>
            <ErrorBar dataKey="reach" direction="y" stroke={ink} width={6} isAnimationActive={false} />
          </Scatter>
        </ScatterChart>
      )}
    </ChartFrame>
  );
}
