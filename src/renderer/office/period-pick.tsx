import { Field } from '../pieces/field.tsx';
import { lastThirty, type Period } from './period.ts';
import { Pick, periods } from './pick.tsx';
import type { Filters } from './use-filters.ts';

interface Props {
  filters: Filters;
  period: Period;
  usual: string;
}

/** The period of a report: so many days up to now, or days of the calendar. */
export function PeriodPick({ filters, period, usual }: Props) {
  const first = periods.filter((one) => one.value === usual);
  const setDay = (name: 'from' | 'until', value: string): void => {
    if (value === '') return;
    const next = { from: period.from, until: period.until, [name]: value };
    // The other day moves along, so that the period never ends before it begins.
    if (next.from > next.until) next[name === 'from' ? 'until' : 'from'] = value;
    filters.set(next);
  };
  return (
    <>
      <Pick
        label="Period"
        value={period.choice}
        choices={[
          ...first,
          ...periods.filter((one) => one.value !== usual),
          { value: 'chosen', title: 'Chosen days' },
        ]}
        onPick={(value) =>
          filters.set(
            value === 'chosen'
              ? { ...lastThirty(), days: '' }
              : { from: '', until: '', days: value === usual ? '' : value },
          )
        }
      />
      {period.choice === 'chosen'
        ? (['from', 'until'] as const).map((name) => (
            <Field key={name} label={name === 'from' ? 'First day' : 'Last day'}>
              {(ids) => (
                <input
                  {...ids}
                  type="date"
                  min="1900-01-01"
                  max="2200-12-31"
                  value={period[name]}
                  onChange={(event) => setDay(name, event.target.value)}
                />
              )}
            </Field>
          ))
        : null}
    </>
  );
}
