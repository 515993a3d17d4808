import { useState } from 'react';
import type { RankedCause } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { apartWords } from '../words/labels.ts';
import { percent } from '../words/units.ts';
import styles from './close-dialog.module.css';
import type { Apart, ClosingForm } from './closing-form.ts';

interface Props {
  causes: readonly RankedCause[];
  chosen: readonly string[];
  words: string;
  apart: Apart | null;
  onChange: (fields: Partial<ClosingForm>) => void;
}

const atOnce = 6;

/** What it was: causes of the book, one the book lacks, or none. */
export function CausePicker({ causes, chosen, words, apart, onChange }: Props) {
  const [isWhole, setWhole] = useState(false);
  const shown = isWhole
    ? causes
    : causes.filter((cause, at) => at < atOnce || chosen.includes(cause.causeId));
  const toggle = (causeId: string): void =>
    onChange({
      apart: null,
      retest: null,
      causeIds: chosen.includes(causeId) ? chosen.filter((id) => id !== causeId) : [...chosen, causeId],
    });
  return (
    <fieldset>
      <legend className={styles.head}>What was it? More than one is possible.</legend>
      <div className={styles.choices}>
        {shown.map((cause) => (
          <button
            key={cause.causeId}
            type="button"
            className={styles.choice}
            aria-pressed={chosen.includes(cause.causeId)}
            onClick={() => toggle(cause.causeId)}
          >
            {cause.title}
            <small>{percent(cause.probability)}</small>
          </button>
        ))}
      </div>
      {causes.length > atOnce ? (
        <Button look="quiet" onClick={() => setWhole(!isWhole)}>
          {isWhole ? 'Show the likeliest only' : `Show all ${causes.length} causes`}
        </Button>
      ) : null}
      <div className={styles.below}>
        <Field label="A cause the book lacks, in words">
          {(ids) => (
            <input
              {...ids}
              maxLength={200}
              value={words}
              onChange={(event) => onChange({ words: event.target.value, apart: null })}
            />
          )}
        </Field>
        <div className={styles.choices}>
          {(Object.keys(apartWords) as Apart[]).map((kind) => (
            <button
              key={kind}
              type="button"
              className={styles.choice}
              aria-pressed={apart === kind}
              onClick={() =>
                onChange(apart === kind ? { apart: null } : { apart: kind, causeIds: [], words: '' })
              }
            >
              {apartWords[kind]}
            </button>
          ))}
        </div>
      </div>
    </fieldset>
  );
}
