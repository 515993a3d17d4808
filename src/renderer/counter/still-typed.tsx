import { Button } from '../pieces/button.tsx';
import styles from './still-typed.module.css';
import type { Choice } from './use-choices.ts';
import type { FieldDesk } from './use-field.ts';

function takeWords(choice: Choice): string | null {
  if (choice.kind === 'vehicle') return `Put ${choice.vehicle.plate ?? 'this vehicle'} on the card`;
  if (choice.kind === 'customer') return `Put ${choice.customer.name} on the card`;
  if (choice.kind === 'new-vehicle') return 'It is the plate of a new vehicle';
  return null;
}

/** Something still stands in the field that may be a complaint or not: the hand is asked before the card is opened. */
export function StillTyped({ field, onOpen }: { field: FieldDesk; onOpen: (leaveOff: boolean) => void }) {
  const { asking, typed } = field;
  if (!asking) return null;
  const take = takeWords(asking);
  return (
    <div className={styles.ask} role="alert">
      <p>
        <strong>“{typed}” still stands in the field. What is it?</strong>
      </p>
      <div className={styles.answers}>
        <Button
          onClick={() => {
            field.addAsComplaint();
            onOpen(false);
          }}
        >
          A complaint: add it and open
        </Button>
        {take ? <Button onClick={field.takeAsked}>{take}</Button> : null}
        <Button onClick={() => onOpen(true)}>Leave it off and open</Button>
      </div>
    </div>
  );
}
