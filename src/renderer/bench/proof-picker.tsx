import { Field } from '../pieces/field.tsx';
import { proofWords } from '../words/labels.ts';
import styles from './close-dialog.module.css';
import type { Proof } from './closing-form.ts';

interface Props {
  proof: Proof | null;
  retest: string;
  isFromBook: boolean;
  onProof: (proof: Proof) => void;
  onRetest: (text: string) => void;
}

/** How it was proven; a retest says what was done. */
export function ProofPicker({ proof, retest, isFromBook, onProof, onRetest }: Props) {
  return (
    <fieldset>
      <legend className={styles.head}>How was it proven?</legend>
      <div className={styles.choices}>
        {(Object.keys(proofWords) as Proof[]).map((kind) => (
          <button
            key={kind}
            type="button"
            className={styles.choice}
            aria-pressed={proof === kind}
            onClick={() => onProof(kind)}
          >
            {proofWords[kind]}
          </button>
        ))}
      </div>
      {proof === 'retested' ? (
        <div className={styles.below}>
          <Field
            label="What was retested, how, how long"
            hint={
              isFromBook ? 'These are the book’s words; change them where you did it another way.' : undefined
            }
          >
            {(ids) => (
              <textarea
                {...ids}
                maxLength={1000}
                rows={2}
                value={retest}
                onChange={(event) => onRetest(event.target.value)}
              />
            )}
          </Field>
        </div>
      ) : null}
    </fieldset>
  );
}
