import { useEffect, useRef } from 'react';
import { Link, useSearchParams } from 'react-router';
import { KeptNote } from '../pieces/kept-note.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import { CounterField } from './counter-field.tsx';
import { CounterFoot } from './counter-foot.tsx';
import styles from './counter-screen.module.css';
import { whoseParts } from './intake.ts';
import { LikelyCauses } from './likely-causes.tsx';
import { SymptomColumn } from './symptom-column.tsx';
import { newVehicleOf } from './use-choices.ts';
import { useField } from './use-field.ts';
import { useIntake } from './use-intake.ts';
import { VehicleColumn } from './vehicle-column.tsx';

export function CounterScreen() {
  const desk = useIntake();
  const { intake, active, setVehicle, addConcern } = desk;
  const [params, setParams] = useSearchParams();
  const input = useRef<HTMLInputElement>(null);
  const field = useField(desk, input);
  const { text, type, found, chosen, pick, problem } = field;

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
        <div className={styles.ask}>
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
            onMove={field.move}
            onTake={field.enter}
          />
          <p className={styles.beside}>
            <Link to={`/counter/parts?${new URLSearchParams(whoseParts(intake.vehicle))}`}>Parts</Link>{' '}
            <Link to="/counter/quotes">Quotes</Link>
          </p>
        </div>
        <KeptNote draft={field.draft} />
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
      <CounterFoot desk={desk} field={field} />
    </div>
  );
}
