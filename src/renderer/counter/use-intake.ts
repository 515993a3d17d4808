import { useMemo, useState } from 'react';
import { newId } from '../session/new-id.ts';
import { useDraft } from '../session/use-draft.ts';
import type { Answer, Intake, IntakeConcern, IntakeVehicle } from './intake.ts';
import { newIntake } from './intake.ts';

/** The card at the counter before it is opened. It outlives a look at another place; each window has its own. */
export function useIntake() {
  const draft = useDraft<Intake>('intake', newIntake());
  const { value: intake, set: change, clear: drop } = draft;
  const [activeId, setActiveId] = useState<string | null>(intake.concerns.at(-1)?.concernId ?? null);

  const actions = useMemo(() => {
    const editConcern = (concernId: string, set: (concern: IntakeConcern) => IntakeConcern): void =>
      change((before) => ({
        ...before,
        concerns: before.concerns.map((each) => (each.concernId === concernId ? set(each) : each)),
      }));
    return {
      setFields: (fields: Partial<Intake>) => change((before) => ({ ...before, ...fields })),
      setVehicle: (vehicle: IntakeVehicle | null) => change((before) => ({ ...before, vehicle })),
      addConcern: (words: string, symptomId: string | null, symptom: string | null) => {
        const concern: IntakeConcern = { concernId: newId(), words, symptomId, symptom, answers: [] };
        change((before) => ({ ...before, concerns: [...before.concerns, concern] }));
        setActiveId(concern.concernId);
      },
      dropConcern: (concernId: string) => {
        change((before) => ({
          ...before,
          concerns: before.concerns.filter((each) => each.concernId !== concernId),
        }));
        setActiveId(null);
      },
      answer: (concernId: string, answer: Answer) =>
        editConcern(concernId, (concern) => ({ ...concern, answers: [...concern.answers, answer] })),
      unanswer: (concernId: string, checkId: string) =>
        editConcern(concernId, (concern) => ({
          ...concern,
          answers: concern.answers.filter(({ reading }) => reading.checkId !== checkId),
        })),
      clear: () => {
        drop();
        // The next card is another visit, with an id of its own.
        change(newIntake());
        setActiveId(null);
      },
    };
  }, [change, drop]);

  const active =
    intake.concerns.find((each) => each.concernId === activeId) ?? intake.concerns.at(-1) ?? null;
  return { intake, now: draft.now, isKept: draft.isKept, active, setActiveId, ...actions };
}

export type IntakeDesk = ReturnType<typeof useIntake>;
