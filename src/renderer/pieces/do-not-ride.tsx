import styles from './do-not-ride.module.css';

/** The loud word on a machine that must not leave under its own power. */
export function DoNotRide({ small = false }: { small?: boolean }) {
  return (
    <strong className={`${styles.flag} ${small ? styles.small : ''}`}>
      <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
        <circle cx="9" cy="9" r="7.4" fill="none" stroke="currentColor" strokeWidth="2.2" />
        <path d="M4 14 14 4" stroke="currentColor" strokeWidth="2.2" />
      </svg>
      Do not ride
    </strong>
  );
}
