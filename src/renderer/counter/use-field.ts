import { type RefObject, useCallback, useRef, useState } from 'react';
import { useNavigate } from 'react-router';
import { useDraft } from '../session/use-draft.ts';
import { whoseParts } from './intake.ts';
import { learnWords } from './learn-words.ts';
import { type Choice, firstChoice, looksLikePlate, newVehicleOf, useChoices } from './use-choices.ts';
import type { IntakeDesk } from './use-intake.ts';

/** A complaint, beyond a doubt: what looks like a plate may be one, whatever the book makes of it. */
const isComplaint = ({ kind }: Choice, words: string): boolean =>
  (kind === 'symptom' || kind === 'words') && !looksLikePlate(words);

/** The one field of the Counter: what is typed, what it could mean, and what is done with it. */
export function useField(desk: IntakeDesk, input: RefObject<HTMLInputElement | null>) {
  const { intake, now, setVehicle, addConcern } = desk;
  const draft = useDraft('counter-field', '');
  const text = draft.value;
  const setText = draft.set;
  const [at, setAt] = useState(0);
  const [problem, setProblem] = useState<unknown>(null);
  /** What the field could mean, where it is to be said before the card is opened. */
  const [asking, setAsking] = useState<Choice | null>(null);
  const entries = useRef<Promise<void>>(Promise.resolve());
  const navigate = useNavigate();
  const found = useChoices(text, intake);
  const chosen = found.choices[Math.min(at, found.choices.length - 1)];

  const type = useCallback(
    (next: string): void => {
      setText(next);
      setAt(0);
      setProblem(null);
      setAsking(null);
    },
    [setText],
  );

  const take = (choice: Choice, words: string): void => {
    if (choice.kind === 'vehicle') setVehicle({ kind: 'known', vehicle: choice.vehicle });
    if (choice.kind === 'customer') setVehicle(newVehicleOf('', choice.customer));
    if (choice.kind === 'new-vehicle') setVehicle(newVehicleOf(choice.plate));
    if (choice.kind === 'job') void navigate(`/bench/${choice.job.number}`);
    if (choice.kind === 'part') {
      const query = { part: choice.part.partNumber, ...whoseParts(now().vehicle) };
      void navigate(`/counter/parts?${new URLSearchParams(query)}`);
    }
    if (choice.kind === 'symptom') addConcern(words, choice.match.symptomId, choice.match.title);
    if (choice.kind === 'words') addConcern(words, null, null);
  };

  const pick = (choice: Choice): void => {
    const words = text.trim();
    const first = found.found?.matches[0];
    const isOther = choice.kind === 'symptom' && first && first.symptomId !== choice.match.symptomId;
    if (isOther && found.isFresh) void learnWords(words, choice.match.symptomId, choice.match.title);
    type('');
    take(choice, words);
    if (choice.kind !== 'new-vehicle') input.current?.focus();
  };

  /** Enter: takes what is marked; an entry typed faster than its lookup is taken as soon as it is known, in order. */
  const enter = (): void => {
    const words = text.trim();
    if (!words) return;
    if (found.isFresh && chosen) {
      pick(chosen);
      return;
    }
    type('');
    entries.current = entries.current
      .then(async () => {
        const choice = await firstChoice(words, now());
        if (choice) take(choice, words);
      })
      .catch((error: unknown) => {
        setText(words);
        setProblem(error);
      });
  };

  /**
   * Before the card is opened: what still stands in the field goes onto the card where it is a complaint; whatever else it
   * could be is asked about. Answers whether the field is empty now.
   */
  const settle = async (): Promise<boolean> => {
    await entries.current;
    const words = draft.now().trim();
    if (!words) return true;
    const choice = found.isFresh && chosen ? chosen : await firstChoice(words, now());
    if (choice && !isComplaint(choice, words)) {
      setAsking(choice);
      return false;
    }
    type('');
    take(choice ?? { id: 'words', kind: 'words', words }, words);
    return true;
  };

  return {
    text,
    typed: text.trim(),
    draft,
    found,
    chosen,
    problem,
    asking,
    type,
    move: (by: 1 | -1): void => {
      const count = found.choices.length;
      if (count > 0) setAt((before) => (before + by + count) % count);
    },
    pick,
    enter,
    settle,
    leaveOff: () => type(''),
    addAsComplaint: () => {
      const words = text.trim();
      const [likeliest] = found.middle;
      type('');
      take(likeliest ?? { id: 'words', kind: 'words', words }, words);
    },
    takeAsked: () => {
      if (asking) pick(asking);
    },
  };
}

export type FieldDesk = ReturnType<typeof useField>;
