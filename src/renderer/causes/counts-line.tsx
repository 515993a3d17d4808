import type { RankedCause } from '../../api/contract.ts';
import { TallyMarks } from '../pieces/tally-marks.tsx';
import styles from './counts-line.module.css';

type Scope = 'model' | 'family' | 'all';
const scopeWords: Record<Scope, string> = { model: 'on this model', family: 'with this engine', all: '' };

/** How often our closed jobs proved it: the narrowest scope that has any jobs, then all of them. */
export function CountsLine({ cause }: { cause: RankedCause }) {
  const scopes: Scope[] = ['model', 'family', 'all'];
  const scope = scopes.find((each) => cause.of[each] > 0);
  // The heading of the list says once that the book speaks alone.
  if (!scope) return null;
  const isWider = scope !== 'all' && cause.of.all > cause.of[scope];
  const narrow = `${cause.confirmed[scope]} of ${cause.of[scope]} ${scope === 'all' ? 'jobs' : scopeWords[scope]}`;
  return (
    <p className={styles.line}>
      <TallyMarks count={cause.confirmed[scope]} />
      <span>
        {narrow}
        {isWider ? ` · ${cause.confirmed.all} of ${cause.of.all} in all` : ''}
      </span>
    </p>
  );
}
