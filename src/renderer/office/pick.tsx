import { Field } from '../pieces/field.tsx';

interface Props {
  label: string;
  value: string;
  choices: readonly { readonly value: string; readonly title: string }[];
  onPick: (value: string) => void;
}

/** One filter of a report. */
export function Pick({ label, value, choices, onPick }: Props) {
  return (
    <Field label={label}>
      {(ids) => (
        <select {...ids} value={value} onChange={(event) => onPick(event.target.value)}>
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.title}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

export const periods = [
  { value: '365', title: 'The last year' },
  { value: '30', title: 'The last 30 days' },
  { value: '90', title: 'The last 90 days' },
  { value: '180', title: 'The last 180 days' },
  { value: '730', title: 'The last two years' },
  { value: '1095', title: 'The last three years' },
  { value: '36600', title: 'Everything' },
] as const;
export const periodDays: readonly string[] = periods.map((period) => period.value);
