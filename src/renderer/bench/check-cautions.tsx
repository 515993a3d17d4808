import type { CautionView } from '../../api/contract.ts';
import { CautionNote } from '../pieces/signal-word.tsx';
import { useDraft } from '../session/use-draft.ts';
import styles from './check-cautions.module.css';

/**
 * What can hurt, before the steps. A caution that was read on this job takes one line on its next checks, with its hazard
 * still in sight; a DANGER is never made small.
 * @param jobId the cautions count as read on this visit only
 */
export function CheckCautions({ jobId, cautions }: { jobId: string; cautions: readonly CautionView[] }) {
  const read = useDraft<{ ids: readonly string[] }>(`job/${jobId}/cautions-read`, { ids: [] });
  const { ids } = read.value;
  if (cautions.length === 0) return null;
  return (
    <ul className={styles.cautions} aria-label="What can hurt">
      {cautions.map((caution) => {
        const canShrink = caution.signal !== 'DANGER';
        const isSmall = canShrink && ids.includes(caution.id);
        return (
          <li key={caution.id} className={isSmall ? styles.small : styles.whole}>
            <CautionNote caution={caution} isShort={isSmall} />
            {canShrink ? (
              <button
                type="button"
                aria-expanded={!isSmall}
                aria-label={`${isSmall ? 'Show the whole' : 'Got it:'} ${caution.signal}, ${caution.hazard}`}
                onClick={() =>
                  read.set({ ids: isSmall ? ids.filter((id) => id !== caution.id) : [...ids, caution.id] })
                }
              >
                {isSmall ? 'Show' : 'Got it'}
              </button>
            ) : null}
          </li>
        );
      })}
    </ul>
  );
}
