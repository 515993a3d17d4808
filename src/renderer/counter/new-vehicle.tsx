import { type KeyboardEvent, useState } from 'react';
import { Field } from '../pieces/field.tsx';
import styles from './form-grid.module.css';
import { type IntakeVehicle, type NewVehicleForm, slipWords } from './intake.ts';
import { ModelPicker } from './model-picker.tsx';

/** Somebody is in the middle of a word: the focus stays where it is. */
const isTyping = (): boolean =>
  document.activeElement instanceof HTMLInputElement && document.activeElement.value !== '';

type NewIntakeVehicle = Extract<IntakeVehicle, { kind: 'new' }>;

/** A machine that is not in the shop's list yet. It is saved with the job card. */
export function NewVehicle({
  vehicle,
  onChange,
  onDone,
}: {
  vehicle: NewIntakeVehicle;
  onChange: (vehicle: IntakeVehicle) => void;
  /** Enter in a field: the form is done, the complaint is next. */
  onDone: () => void;
}) {
  const { form, customer } = vehicle;
  const [start] = useState(() => (isTyping() ? 'nowhere' : form.plate ? 'model' : 'plate'));
  const set = (fields: Partial<NewVehicleForm>): void =>
    onChange({ ...vehicle, form: { ...form, ...fields } });
  const onKeyDown = (event: KeyboardEvent<HTMLFieldSetElement>): void => {
    const field = event.target as HTMLElement;
    const isChoosing = field.getAttribute('aria-expanded') === 'true';
    if (event.key !== 'Enter' || event.ctrlKey || event.metaKey || isChoosing) return;
    event.preventDefault();
    onDone();
  };
  return (
    <fieldset onKeyDown={onKeyDown} className={styles.grid}>
      <legend className={styles.legend}>New vehicle</legend>
      <Field label="Plate">
        {(ids) => (
          <input
            {...ids}
            className={styles.mono}
            maxLength={20}
            value={form.plate}
            // biome-ignore lint/a11y/noAutofocus: the person has just asked for this form
            autoFocus={start === 'plate'}
            onChange={(event) => set({ plate: event.target.value.toUpperCase() })}
          />
        )}
      </Field>
      <Field
        label="Year"
        hint={form.year.length === 4 && !/^(19|20)\d\d$/.test(form.year) ? slipWords.year : undefined}
      >
        {(ids) => (
          <input
            {...ids}
            inputMode="numeric"
            maxLength={4}
            value={form.year}
            onChange={(event) => set({ year: event.target.value })}
          />
        )}
      </Field>
      <ModelPicker
        startHere={start === 'model'}
        modelId={form.modelId}
        words={form.modelWords}
        onChange={set}
      />
      {customer ? null : (
        <>
          <Field label="Customer">
            {(ids) => (
              <input
                {...ids}
                maxLength={200}
                placeholder="Name"
                value={form.customerName}
                onChange={(event) => set({ customerName: event.target.value })}
              />
            )}
          </Field>
          <Field label="Phone">
            {(ids) => (
              <input
                {...ids}
                type="tel"
                maxLength={40}
                value={form.customerPhone}
                onChange={(event) => set({ customerPhone: event.target.value })}
              />
            )}
          </Field>
        </>
      )}
      <Field label="Color">
        {(ids) => (
          <input
            {...ids}
            maxLength={40}
            value={form.color}
            onChange={(event) => set({ color: event.target.value })}
          />
        )}
      </Field>
      <Field label="Frame number">
        {(ids) => (
          <input
            {...ids}
            className={styles.mono}
            maxLength={30}
            value={form.frame}
            onChange={(event) => set({ frame: event.target.value })}
          />
        )}
      </Field>
      <p className={styles.hint}>Enter goes back to the complaint.</p>
    </fieldset>
  );
}
