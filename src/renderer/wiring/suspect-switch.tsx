import type { CircuitDraw, RankedCause } from '../../api/contract.ts';
import styles from './wiring-panel.module.css';

type Suspect = Pick<RankedCause, 'causeId' | 'title'>;

interface Props {
  suspects: readonly Suspect[];
  suspect: Suspect | null;
  isSuspect: boolean;
  /** What the book knows of the suspect in this circuit. */
  state: CircuitDraw['cause'];
  onSide: (isSuspect: boolean) => void;
  onSuspect: (causeId: string) => void;
}

/** Healthy, or as it would be under one of the causes still in question. */
export function SuspectSwitch({ suspects, suspect, isSuspect, state, onSide, onSuspect }: Props) {
  if (!suspect) return null;
  return (
    <>
      <fieldset className={styles.sides}>
        <legend className="unseen">Which machine is drawn</legend>
        <button type="button" aria-pressed={!isSuspect} onClick={() => onSide(false)}>
          Healthy
        </button>
        <button type="button" aria-pressed={isSuspect} onClick={() => onSide(true)}>
          If: {suspect.title}
        </button>
      </fieldset>
      {suspects.length > 1 ? (
        <label className={styles.pick}>
          <span>Suspect</span>
          <select value={suspect.causeId} onChange={(event) => onSuspect(event.target.value)}>
            {suspects.map((each) => (
              <option key={each.causeId} value={each.causeId}>
                {each.title}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      {isSuspect && state === 'unknown' ? (
        <p className={styles.note}>
          The book does not say how this cause stands in this circuit; it is drawn healthy.
        </p>
      ) : null}
      {isSuspect && state === 'healthy' ? (
        <p className={styles.note}>With this cause the wiring itself stays as on a healthy machine.</p>
      ) : null}
    </>
  );
}
