import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import styles from './quotes.module.css';
import type { DraftDesk } from './use-draft.ts';

const names = ['Good', 'Better', 'Best', 'Other'];
const slugs = ['good', 'better', 'best', 'other'];
const most = 4;

/** Ways to do the repair that the customer chooses between, each with its own total. */
export function OptionsEditor({ desk }: { desk: DraftDesk }) {
  const { draft, change } = desk;
  const { options } = draft;
  const add = (count: number): void =>
    change((before) => {
      const free = slugs.filter((slug) => !before.options.some(({ optionId }) => optionId === slug));
      const more = free.slice(0, count).map((optionId) => ({
        optionId,
        title: names[slugs.indexOf(optionId)] ?? optionId,
        note: '',
      }));
      return { ...before, options: [...before.options, ...more] };
    }, true);
  const drop = (optionId: string): void =>
    change((before) => {
      const left = before.options.filter((option) => option.optionId !== optionId);
      // With one option left there is nothing to choose, and its lines belong to the quote.
      const kept = left.length < 2 ? [] : left;
      return {
        ...before,
        options: kept,
        lines: before.lines
          .filter((line) => line.optionId !== optionId)
          .map((line) => (kept.length === 0 ? { ...line, optionId: null } : line)),
      };
    }, true);
  const set = (optionId: string, field: 'title' | 'note', value: string): void =>
    change((before) => ({
      ...before,
      options: before.options.map((option) =>
        option.optionId === optionId ? { ...option, [field]: value } : option,
      ),
    }));
  if (options.length === 0)
    return (
      <div className={styles.line}>
        <Button size="row" onClick={() => add(2)}>
          Offer two options
        </Button>
        <span className={styles.soft}>The customer picks one; each shows its own total.</span>
      </div>
    );
  return (
    <section className={styles.part} aria-label="Options">
      {options.map((option) => (
        <div key={option.optionId} className={styles.option}>
          <Field label="Option">
            {(ids) => (
              <input
                {...ids}
                maxLength={80}
                value={option.title}
                onChange={(event) => set(option.optionId, 'title', event.target.value)}
              />
            )}
          </Field>
          <Field label={`What ${option.title || 'it'} means for the customer`}>
            {(ids) => (
              <input
                {...ids}
                maxLength={200}
                placeholder="Pattern part, 1 year of warranty"
                value={option.note}
                onChange={(event) => set(option.optionId, 'note', event.target.value)}
              />
            )}
          </Field>
          <Button size="row" look="quiet" onClick={() => drop(option.optionId)}>
            Drop {option.title || 'it'} and its lines
          </Button>
        </div>
      ))}
      {options.length < most ? (
        <div>
          <Button size="row" onClick={() => add(1)}>
            One more option
          </Button>
        </div>
      ) : null}
    </section>
  );
}
