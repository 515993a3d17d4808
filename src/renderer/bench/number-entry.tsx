import type { CheckView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { unitSign } from '../words/units.ts';
import styles from './number-entry.module.css';
import { outcomeOf, plainNumber } from './typed-number.ts';

interface Props {
  unit: string;
  title: string;
  outcomes: CheckView['outcomes'];
  text: string;
  isBusy: boolean;
  onText: (text: string) => void;
  onRecord: () => void;
}

/** The number as the meter shows it; its meaning appears while it is typed. */
export function NumberEntry({ unit, title, outcomes, text, isBusy, onText, onRecord }: Props) {
  const number = plainNumber(text);
  const meaning = number === null ? undefined : outcomeOf(outcomes, number)?.means;
  return (
    <form
      className={styles.entry}
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() !== '') onRecord();
      }}
    >
      <input
        aria-label={`${title}, in ${unit}`}
        inputMode="decimal"
        autoComplete="off"
        maxLength={20}
        value={text}
        onChange={(event) => onText(event.target.value)}
      />
      <span className={styles.unit}>{unitSign(unit)}</span>
      <em role="status">{meaning ?? (text.trim() === '' ? 'type what the meter shows' : '')}</em>
      <Button type="submit" disabled={isBusy || text.trim() === ''}>
        Record
      </Button>
    </form>
  );
}
