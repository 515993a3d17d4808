import { useCallback, useMemo, useState } from 'react';
import { newId } from '../session/new-id.ts';
import type { Answer, Intake, IntakeConcern, IntakeVehicle } from './intake.ts';
import { newIntake } from './intake.ts';

const draftKey = 'bench-tally-intake';

function readDraft(): Intake {
  try {
    const kept = localStorage.getItem(draftKey);
    return kept ? (JSON.parse(kept) as Intake) : newIntake();
  } catch {
    return newIntake();
  }
}

/** The card at the counter before it is opened. It outlives a look at another place. */
export function useIntake() {
  const [intake, setIntake] = useState(readDraft);
  const [activeId, setActiveId] = useState<string | null>(intake.concerns.at(-1)?.concernId ?? null);

  const change = useCallback((set: (before: Intake) => Intake) => {
    setIntake((before) => {
      const after = set(before);
      try {
        localStorage.setItem(draftKey, JSON.stringify(after));
      } catch {
        // Without room for the draft the card is still there until the window closes.
      }
      return after;
    });
  }, []);

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
        change(newIntake);
        setActiveId(null);
      },
    };
  }, [change]);

  const active =
    intake.concerns.find((each) => each.concernId === activeId) ?? intake.concerns.at(-1) ?? null;
  return { intake, active, setActiveId, ...actions };
}

export type IntakeDesk = ReturnType<typeof useIntake>;
