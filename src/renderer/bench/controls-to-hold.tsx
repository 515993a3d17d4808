import { plain } from '../words/labels.ts';
import styles from './controls-to-hold.module.css';

const open = new Set(['off', 'released', 'rest', 'up', 'open', 'stop']);
const isButton = (control: string): boolean => /button|horn|brake|lever|clutch/.test(control);

/** A contact, closed or open; one that is held by hand carries its plunger. */
function SwitchSymbol({ isClosed, isHeld }: { isClosed: boolean; isHeld: boolean }) {
  return (
    <svg
      width="28"
      height="14"
      viewBox="0 0 28 14"
      aria-hidden="true"
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
    >
      {isClosed ? <path d="M1 10h26" /> : <path d="M1 10h8l11-7M20 10h7" />}
      {isHeld ? <path d="M14 1v6" /> : null}
    </svg>
  );
}

/** Which controls to hold or set while reading, as switch symbols with words. */
export function ControlsToHold({ controls }: { controls: Readonly<Record<string, string>> }) {
  const entries = Object.entries(controls);
  if (entries.length === 0) return null;
  return (
    <ul className={styles.hold} aria-label="Controls for this check">
      {entries.map(([control, position]) => (
        <li key={control}>
          <SwitchSymbol isClosed={!open.has(position)} isHeld={isButton(control) && !open.has(position)} />
          {plain(control)} {plain(position)}
        </li>
      ))}
    </ul>
  );
}
