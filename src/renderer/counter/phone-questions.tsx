import type { CheckView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { useRead } from '../session/use-read.ts';
import type { Answer } from './intake.ts';
import styles from './phone-questions.module.css';

interface Props {
  symptomId: string;
  modelId: string | undefined;
  answers: readonly Answer[];
  onAnswer: (answer: Answer) => void;
}

const atOnce = 3;

function Question({ check, onAnswer }: { check: CheckView; onAnswer: (answer: Answer) => void }) {
  return (
    <li className={styles.question}>
      <p className={styles.ask}>{check.title}</p>
      {check.steps.length > 0 ? <p className={styles.soft}>{check.steps.join(' ')}</p> : null}
      <div className={styles.answers}>
        {check.outcomes.map((outcome) => (
          <Button
            key={outcome.outcome}
            onClick={() =>
              onAnswer({
                title: check.title,
                shows: outcome.title,
                reading: { checkId: check.checkId, outcome: outcome.outcome },
              })
            }
          >
            <span className={styles.answer}>
              {outcome.title}
              <small>{outcome.means}</small>
            </span>
          </Button>
        ))}
      </div>
    </li>
  );
}

/** The questions a customer can answer on the phone, those that tell most first. Answers go onto the card. */
export function PhoneQuestions({ symptomId, modelId, answers, onAnswer }: Props) {
  const next = useRead(
    'checks.next',
    {
      symptomId,
      ...(modelId ? { modelId } : {}),
      readings: answers.map(({ reading }) => reading),
      limit: 60,
    },
    { keep: true },
  );
  const given = new Set(answers.map(({ reading }) => reading.checkId));
  const questions = next.data?.checks.filter((check) => check.phone && !given.has(check.checkId)) ?? [];
  if (questions.length === 0) return null;
  return (
    <div className={styles.questions}>
      <h3 className={styles.head}>Ask while they are here</h3>
      <ul>
        {questions.slice(0, atOnce).map((check) => (
          <Question key={check.checkId} check={check} onAnswer={onAnswer} />
        ))}
      </ul>
    </div>
  );
}
