import { useCallback, useEffect, useRef, useState } from 'react';
import { Link, useNavigate, useSearchParams } from 'react-router';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { CounterField } from './counter-field.tsx';
import { CounterFoot } from './counter-foot.tsx';
import styles from './counter-screen.module.css';
import { whoseParts } from './intake.ts';
import { learnWords } from './learn-words.ts';
import { LikelyCauses } from './likely-causes.tsx';
import { SymptomColumn } from './symptom-column.tsx';
import { type Choice, firstChoice, newVehicleOf, useChoices } from './use-choices.ts';
import { useIntake } from './use-intake.ts';
import { VehicleColumn } from './vehicle-column.tsx';

export function CounterScreen() {
  const desk = useIntake();
  const { intake, active, setVehicle, addConcern } = desk;
  const [params, setParams] = useSearchParams();
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const [problem, setProblem] = useState<unknown>(null);
  const entries = useRef<Promise<void>>(Promise.resolve());
  const latest = useRef(intake);
  latest.current = intake;
  const input = useRef<HTMLInputElement>(null);
  const navigate = useNavigate();
  const found = useChoices(text, intake);
  const chosen = found.choices[Math.min(at, found.choices.length - 1)];

  const type = useCallback((next: string): void => {
    setText(next);
    setAt(0);
    setProblem(null);
  }, []);

  useEffect(() => input.current?.focus(), []);

  // The find field and other places hand over a vehicle, a customer or words.
  useEffect(() => {
    const vehicleId = params.get('vehicle');
    const customerId = params.get('customer');
    const words = params.get('say');
    if (!vehicleId && !customerId && !words) return;
    setParams({}, { replace: true });
    input.current?.focus();
    if (words) type(words);
    if (vehicleId) {
      void client
        .call('vehicles.get', { vehicleId })
        .then(({ vehicle }) => setVehicle({ kind: 'known', vehicle }));
    }
    if (customerId) {
      void client.call('customers.get', { customerId }).then(({ customer, vehicles }) => {
        const [only] = vehicles;
        setVehicle(
          only && vehicles.length === 1 ? { kind: 'known', vehicle: only } : newVehicleOf('', customer),
        );
      });
    }
  }, [params, setParams, setVehicle, type]);

  const take = useCallback(
    (choice: Choice, words: string): void => {
      if (choice.kind === 'vehicle') setVehicle({ kind: 'known', vehicle: choice.vehicle });
      if (choice.kind === 'customer') setVehicle(newVehicleOf('', choice.customer));
      if (choice.kind === 'new-vehicle') setVehicle(newVehicleOf(choice.plate));
      if (choice.kind === 'job') void navigate(`/bench/${choice.job.number}`);
      if (choice.kind === 'part') {
        const query = { part: choice.part.partNumber, ...whoseParts(latest.current.vehicle) };
        void navigate(`/counter/parts?${new URLSearchParams(query)}`);
      }
      if (choice.kind === 'symptom') addConcern(words, choice.match.symptomId, choice.match.title);
      if (choice.kind === 'words') addConcern(words, null, null);
    },
    [setVehicle, addConcern, navigate],
  );

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
        const choice = await firstChoice(words, latest.current);
        if (choice) take(choice, words);
      })
      .catch((error: unknown) => {
        setText(words);
        setProblem(error);
      });
  };

  // While a complaint is typed, the causes of the marked symptom show, or of the likeliest one.
  const isComplaint = chosen?.kind === 'symptom' || chosen?.kind === 'words';
  const shown =
    chosen?.kind === 'symptom'
      ? chosen
      : found.middle.find((choice) => isComplaint && choice.kind === 'symptom');
  const looking = shown?.kind === 'symptom' ? shown.match : null;

  return (
    <div className={styles.counter}>
      <h1 className="unseen">Counter</h1>
      <div className={styles.top}>
        <CounterField
          input={input}
          text={text}
          placeholder={
            intake.vehicle
              ? 'What does the customer say, or a part?'
              : 'Plate, name, phone, part, or what the customer says'
          }
          isOpen={found.choices.length > 0}
          activeId={found.typed ? chosen?.id : undefined}
          onText={type}
          onMove={(by) => {
            const count = found.choices.length;
            if (count > 0) setAt((before) => (before + by + count) % count);
          }}
          onTake={enter}
        />
        <p className={styles.beside}>
          <Link to={`/counter/parts?${new URLSearchParams(whoseParts(intake.vehicle))}`}>Parts</Link>{' '}
          <Link to="/counter/quotes">Quotes</Link>
        </p>
        <ProblemNote problem={problem ?? (found.typed ? found.problem : null)} />
      </div>
      <div className={styles.columns}>
        <VehicleColumn
          desk={desk}
          found={found.left}
          activeId={chosen?.id}
          onTake={pick}
          onDone={() => input.current?.focus()}
        />
        <SymptomColumn
          desk={desk}
          typed={found.typed}
          found={found.middle}
          asked={found.found}
          isFresh={found.isFresh}
          activeId={chosen?.id}
          onTake={pick}
          onSymptom={(symptomId, title) => {
            addConcern(text.trim(), symptomId, title);
            type('');
            input.current?.focus();
          }}
        />
        <LikelyCauses
          intake={intake}
          symptomId={looking?.symptomId ?? active?.symptomId ?? null}
          title={looking?.title ?? active?.symptom ?? null}
          answers={looking ? [] : (active?.answers ?? [])}
        />
      </div>
      <CounterFoot desk={desk} isTyping={found.typed !== ''} />
    </div>
  );
}
