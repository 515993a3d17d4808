import type { QuoteSettings } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import styles from './settings-page.module.css';

type Rate = QuoteSettings['taxRates'][number];

interface Props {
  rates: readonly Rate[];
  usual: string | null;
  onChange: (rates: readonly Rate[], usual: string | null) => void;
}

const most = 8;

/** An id out of a title, apart from those that are taken. */
function idFor(taken: readonly Rate[]): string {
  for (let n = 1; ; n += 1) if (!taken.some(({ id }) => id === `tax-${n}`)) return `tax-${n}`;
}

/** The taxes that quotes are counted with: as many as the shop's country has, and the one that is usual. */
export function TaxRates({ rates, usual, onChange }: Props) {
  const set = (id: string, next: Partial<Rate>): void =>
    onChange(
      rates.map((rate) => (rate.id === id ? { ...rate, ...next } : rate)),
      usual,
    );
  return (
    <div className={styles.rates}>
      {rates.map((rate) => (
        <div key={rate.id} className={styles.rate}>
          <Field label="Tax, as it is printed">
            {(ids) => (
              <input
                {...ids}
                maxLength={80}
                placeholder="Sales tax"
                value={rate.title}
                onChange={(event) => set(rate.id, { title: event.target.value })}
              />
            )}
          </Field>
          <Field label="Percent">
            {(ids) => (
              <input
                {...ids}
                inputMode="decimal"
                maxLength={8}
                value={rate.percent}
                onChange={(event) => set(rate.id, { percent: event.target.value })}
              />
            )}
          </Field>
          <Button
            size="row"
            look="quiet"
            aria-label={`Remove ${rate.title || 'the tax'}`}
            onClick={() =>
              onChange(
                rates.filter(({ id }) => id !== rate.id),
                usual === rate.id ? null : usual,
              )
            }
          >
            Remove
          </Button>
        </div>
      ))}
      <div className={styles.rate}>
        <Button
          size="row"
          disabled={rates.length >= most}
          onClick={() => {
            const id = idFor(rates);
            onChange([...rates, { id, title: '', percent: '' }], usual ?? id);
          }}
        >
          Add a tax
        </Button>
        {rates.length > 0 ? (
          <Field label="Usual for new lines">
            {(ids) => (
              <select
                {...ids}
                value={usual ?? ''}
                onChange={(event) => onChange(rates, event.target.value || null)}
              >
                <option value="">none</option>
                {rates.map((rate) => (
                  <option key={rate.id} value={rate.id}>
                    {rate.title || 'without a name'} {rate.percent} %
                  </option>
                ))}
              </select>
            )}
          </Field>
        ) : (
          <span className={styles.soft}>No tax is counted.</span>
        )}
      </div>
    </div>
  );
}
