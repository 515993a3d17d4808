import type { CheckView } from '../../api/contract.ts';
import styles from './answer-buttons.module.css';

interface Props {
  outcomes: CheckView['outcomes'];
  isBusy: boolean;
  onAnswer: (outcome: string) => void;
}

/** Large answers that say what each of them would mean. */
export function AnswerButtons({ outcomes, isBusy, onAnswer }: Props) {
  return (
    <fieldset className={styles.answers} aria-label="Answers">
      {outcomes.map((outcome) => (
        <button
          key={outcome.outcome}
          type="button"
          disabled={isBusy}
          onClick={() => onAnswer(outcome.outcome)}
        >
          {outcome.title}
          <small>{outcome.means}</small>
        </button>
      ))}
    </fieldset>
  );
}
