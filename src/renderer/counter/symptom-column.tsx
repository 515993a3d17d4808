import type { OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty } from '../pieces/empty.tsx';
import { MarkedWords } from '../pieces/marked-words.tsx';
import { sentence } from '../words/labels.ts';
import { unitSign } from '../words/units.ts';
import { ChoiceList, ChoiceWords } from './choice-list.tsx';
import { ConcernCard } from './concern-card.tsx';
import { modelOf } from './intake.ts';
import { PhoneQuestions } from './phone-questions.tsx';
import styles from './symptom-column.module.css';
import type { Choice } from './use-choices.ts';
import type { IntakeDesk } from './use-intake.ts';

interface Props {
  desk: IntakeDesk;
  typed: string;
  found: readonly Choice[];
  asked: OutputOf<'symptoms.find'> | undefined;
  activeId: string | undefined;
  /** The answer to what is typed has come. */
  isFresh: boolean;
  onTake: (choice: Choice) => void;
  onSymptom: (symptomId: string, title: string) => void;
}

/** Middle: what the words mean, then the concerns on the card with the questions a phone can answer. */
export function SymptomColumn({ desk, typed, found, asked, activeId, isFresh, onTake, onSymptom }: Props) {
  const { intake, active } = desk;
  const marked = found.find((choice) => choice.id === activeId);
  const shown = marked?.kind === 'symptom' ? marked.match : asked?.matches[0];
  const words = shown?.words ?? [];
  const titleOf = (symptomId: string): string =>
    asked?.matches.find((match) => match.symptomId === symptomId)?.title ?? '';
  return (
    <section aria-label="Complaint">
      <ColumnTitle>What the customer says</ColumnTitle>
      {typed ? (
        <p className={styles.said}>
          “<MarkedWords text={typed} words={words} />”
        </p>
      ) : null}
      {typed && asked?.outOfScope ? <p className={styles.scope}>{asked.outOfScope.say}</p> : null}
      {typed && asked?.readings?.length ? (
        <p className={styles.soft}>
          Read in the words:{' '}
          {asked.readings.map(({ value, unit }) => `${value} ${unitSign(unit)}`).join(', ')}
        </p>
      ) : null}
      {typed && asked?.question ? (
        <div className={styles.question}>
          <p>
            <strong>Ask: {asked.question.ask}</strong>
          </p>
          <div className={styles.answers}>
            {asked.question.answers.map((answer) => (
              <Button
                key={answer.say}
                onClick={() => onSymptom(answer.symptomId, titleOf(answer.symptomId) || answer.say)}
              >
                {sentence(answer.say)}
              </Button>
            ))}
          </div>
        </div>
      ) : null}
      <ChoiceList
        id="counter-symptoms"
        label="Symptoms"
        choices={found}
        activeId={activeId}
        onTake={onTake}
        show={(choice) => {
          if (choice.kind === 'symptom')
            return <ChoiceWords title={choice.match.title} detail={choice.match.why} />;
          if (choice.kind !== 'words') return null;
          return (
            <ChoiceWords
              title="Keep the words only"
              detail={
                found.length === 1 && !isFresh
                  ? 'Looking in the book …'
                  : found.length === 1
                    ? 'No symptom of the book fits; the bench can name it later.'
                    : 'None of these; the bench names the symptom later.'
              }
            />
          );
        }}
      />
      {intake.concerns.map((concern, at) => (
        <ConcernCard
          key={concern.concernId}
          concern={concern}
          number={at + 1}
          isActive={concern.concernId === active?.concernId}
          onPick={() => desk.setActiveId(concern.concernId)}
          onDrop={() => desk.dropConcern(concern.concernId)}
          onUnanswer={(checkId) => desk.unanswer(concern.concernId, checkId)}
        />
      ))}
      {active?.symptomId && !typed ? (
        <PhoneQuestions
          symptomId={active.symptomId}
          modelId={modelOf(intake.vehicle)}
          answers={active.answers}
          onAnswer={(answer) => desk.answer(active.concernId, answer)}
        />
      ) : null}
      {!typed && intake.concerns.length === 0 ? (
        <Empty title="Type the complaint as it is said.">
          Spelling does not matter: “dosnt turn over just one click” is enough. Down and up choose, Enter
          takes, Ctrl and Enter open the card.
        </Empty>
      ) : null}
      {!typed && intake.concerns.length > 0 ? (
        <p className={styles.soft}>Something else on the same visit? Type the next complaint above.</p>
      ) : null}
    </section>
  );
}
