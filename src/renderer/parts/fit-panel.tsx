import { useState } from 'react';
import type { VehicleView } from '../../api/contract.ts';
import { ModelPicker } from '../counter/model-picker.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Field } from '../pieces/field.tsx';
import { AddToQuote } from '../quotes/add-to-quote.tsx';
import type { AddTarget } from '../quotes/use-add-part.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { FitList } from './fit-list.tsx';
import { FrameField } from './frame-field.tsx';
import styles from './parts.module.css';

interface Props {
  modelId: string | null;
  /** The machine that is meant, where the shop knows it: its year and frame number are filled in. */
  vehicle: VehicleView | undefined;
  kind: string | null;
  onChange: (next: { model?: string | null; kind?: string | null }) => void;
  /** Whose quote a part goes onto. */
  target: AddTarget;
  onOpen: (partNumber: string) => void;
}

/** Which parts of a kind fit a model. */
export function FitPanel({ modelId, vehicle, kind, target, onChange, onOpen }: Props) {
  const kinds = useRead('handbook.browse', { kind: 'part-kind' }, { stale: 60_000 });
  const models = useRead('models.list', {}, { stale: 60_000 });
  const [year, setYear] = useState(vehicle?.year ? String(vehicle.year) : '');
  const [frame, setFrame] = useState(vehicle?.frame ?? '');
  const askedFrame = useDelayed(frame.trim(), 250);
  const isYear = /^(19|20)\d\d$/.test(year.trim());
  const choices = [...(kinds.data?.entries ?? [])].sort((one, other) => one.title.localeCompare(other.title));
  return (
    <section aria-label="What fits a machine" className={styles.list}>
      <ColumnTitle>What fits a machine</ColumnTitle>
      <div className={styles.ask}>
        {models.isSuccess ? (
          <ModelPicker
            modelId={modelId}
            words=""
            startHere={false}
            onChange={(next) => onChange({ model: next.modelId })}
          />
        ) : null}
        <Field label="Part">
          {(ids) => (
            <select
              {...ids}
              value={kind ?? ''}
              onChange={(event) => onChange({ kind: event.target.value || null })}
            >
              <option value="">Choose what is needed</option>
              {choices.map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label="Year" hint={year.trim() !== '' && !isYear ? 'Such as 2014.' : undefined}>
          {(ids) => (
            <input
              {...ids}
              inputMode="numeric"
              maxLength={4}
              value={year}
              onChange={(event) => setYear(event.target.value)}
            />
          )}
        </Field>
        <FrameField value={frame} onChange={setFrame} onYear={(next) => setYear(String(next))} />
      </div>
      {modelId && kind ? (
        <FitList
          key={`${modelId} ${kind}`}
          ask={{
            modelId,
            kind,
            ...(isYear ? { year: Number(year) } : {}),
            ...(askedFrame === '' ? {} : { frame: askedFrame }),
          }}
          onOpen={onOpen}
          action={(fit) => <AddToQuote partNumber={fit.partNumber} quantity={fit.quantity} {...target} />}
        />
      ) : (
        <p className={styles.soft}>Choose a model and a part to see what fits, how sure that is, and why.</p>
      )}
    </section>
  );
}
