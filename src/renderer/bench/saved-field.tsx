import { useState } from 'react';
import { Field } from '../pieces/field.tsx';
import { useTyped } from './use-typed.ts';

interface Props {
  label: string;
  value: string;
  /** Saves the text; answers with what is wrong with it where it cannot be saved. */
  onSave: (text: string) => string | null;
  inputMode?: 'numeric' | 'decimal' | 'text';
  type?: 'text' | 'datetime-local';
  maxLength?: number;
  list?: string;
  placeholder?: string;
  isLong?: boolean;
  wide?: boolean;
}

/** A field of the job card that saves as it is typed. */
export function SavedField({ label, value, onSave, isLong = false, wide = false, ...rest }: Props) {
  const [wrong, setWrong] = useState<string | null>(null);
  const { text, type, flush } = useTyped(value, (next) => setWrong(onSave(next)));
  return (
    <Field label={label} wide={wide} hint={wrong ?? undefined}>
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
