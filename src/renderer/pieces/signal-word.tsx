import type { CautionView } from '../../api/contract.ts';
import styles from './signal-word.module.css';

/** A signal word of ANSI Z535.6 with its symbol; NOTICE concerns property only and carries no triangle. */
export function SignalWord({ signal }: { signal: CautionView['signal'] }) {
  return (
    <strong className={`${styles.signal} ${styles[signal]}`}>
      {signal === 'NOTICE' ? null : (
        <svg width="17" height="15" viewBox="0 0 17 15" aria-hidden="true">
          <path
            d="M8.5 1 16 14H1Z"
            fill="none"
            stroke="currentColor"
            strokeWidth="1.8"
            strokeLinejoin="round"
          />
          <path d="M8.5 5v4.5M8.5 11.4v.6" stroke="currentColor" strokeWidth="1.8" />
        </svg>
      )}
      {signal}
    </strong>
  );
}

/** What can hurt, and what to do about it, before the step it belongs to; short, only what can hurt. */
export function CautionNote({ caution, isShort = false }: { caution: CautionView; isShort?: boolean }) {
  return (
    <div className={styles.note}>
      <SignalWord signal={caution.signal} />
      <p>
        <b>{caution.hazard}</b> {isShort ? '' : caution.avoid}
        {caution.doNotRide && !isShort ? <strong> Do not ride until this is put right.</strong> : null}
      </p>
    </div>
  );
}
