import type { CheckView } from '../../api/contract.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import styles from './judged-value.module.css';
import { type AskedCondition as Asked, conditionsOf, type Noted, plainNumber } from './typed-number.ts';

interface Props {
  check: CheckView;
  typed: string;
  noted: Noted;
  onNoted: (noted: Noted) => void;
}

const labels: Record<Asked, string> = {
  rest_hours: 'Rested, hours',
  temperature_c: 'Temperature, °C',
  charge_percent: 'Charge, %',
};
const verdicts = {
  good: 'Within limits',
  low: 'Too low',
  high: 'Too high',
  bad: 'Bad',
  'cannot-say': 'Cannot be judged yet',
} as const;

/** Which conditions matter, by what the spec says of itself. */
function askedBy(unit: string | null, conditions: string): Asked[] {
  const asked: Asked[] = [];
  if (/\brest(ed)?\b|without charge or load/i.test(conditions)) asked.push('rest_hours');
  if (unit === 'ohm' && /20 °c/i.test(conditions)) asked.push('temperature_c');
  if (/75 %|for 15 s|load test/i.test(conditions)) asked.push('charge_percent');
  return asked;
}

/** The typed value against its spec, before it is recorded: the verdict and why. Nothing for a check without a spec. */
export function JudgedValue({ check, typed, noted, onNoted }: Props) {
  const { specId, unit } = check;
  const value = useDelayed(typed.trim(), 250);
  const spec = useRead('handbook.read', specId ? { kind: 'spec', id: specId } : null, { stale: 60_000 });
  const told = spec.data?.body.conditions;
  const asked = askedBy(unit, typeof told === 'string' ? told : '');
  const conditions = conditionsOf(noted);
  const number = plainNumber(value);
  const judged = useRead(
    'readings.judge',
    specId && value !== ''
      ? { specId, value: number ?? value, ...(number !== null && unit ? { unit } : {}), conditions }
      : null,
  );
  if (!specId || typed.trim() === '') return null;
  return (
    <div className={styles.judged}>
      {asked.map((name) => (
        <label key={name}>
          {labels[name]}
          <input
            inputMode="decimal"
            maxLength={6}
            value={noted[name] ?? ''}
            onChange={(event) => onNoted({ ...noted, [name]: event.target.value })}
          />
        </label>
      ))}
      <p role="status">
        {judged.data ? (
          <>
            <b>{verdicts[judged.data.verdict]}.</b> {judged.data.why}
          </>
        ) : null}
        {judged.error ? judged.error.message : null}
      </p>
    </div>
  );
}
