import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { type Saving, useTyped } from './use-typed.ts';

interface Props {
  /** Names what is typed and not saved yet: which field of which job. */
  name: string;
  label: string;
  value: string;
  /** What the card says, in words, where the value is not fit to read. */
  says?: string;
  /** Saves the text; answers with what is wrong with it where it cannot be saved. */
  onSave: (text: string) => Saving;
  inputMode?: 'numeric' | 'decimal' | 'text';
  type?: 'text' | 'datetime-local';
  maxLength?: number;
  list?: string;
  placeholder?: string;
  isLong?: boolean;
  wide?: boolean;
}

/** A field of the job card that saves as it is typed. */
export function SavedField({ name, label, value, says, onSave, isLong, wide = false, ...rest }: Props) {
  const { text, type, flush, wrong, isRefused, saveAgain, giveUp } = useTyped(name, value, onSave);
  const refused = isRefused ? (
    <>
      Not saved. {value === '' ? 'The card has nothing here.' : `The card says “${says ?? value}”.`}{' '}
      <Button size="row" onClick={saveAgain}>
        Save mine
      </Button>{' '}
      <Button size="row" look="quiet" onClick={giveUp}>
        Keep the card’s
      </Button>
    </>
  ) : undefined;
  return (
    <Field label={label} wide={wide} hint={wrong ?? refused}>
      {(ids) =>
        isLong ? (
          <textarea
            {...ids}
            rows={2}
            maxLength={4000}
            value={text}
            onChange={(event) => type(event.target.value)}
            onBlur={flush}
          />
        ) : (
          <input
            {...ids}
            {...rest}
            aria-invalid={wrong !== null}
            value={text}
            onChange={(event) => type(event.target.value)}
            onBlur={flush}
          />
        )
      }
    </Field>
  );
}
