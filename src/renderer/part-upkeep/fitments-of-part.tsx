import { type FormEvent, useState } from 'react';
import type { EditableFitment, PartCard } from '../../api/contract.ts';
import { fitmentWords } from '../parts/part-words.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { newId } from '../session/new-id.ts';
import { useRead } from '../session/use-read.ts';
import { basisWords } from '../words/labels.ts';
import styles from './part-upkeep.module.css';
import { readWhole } from './read-whole.ts';
import { useUpkeep } from './use-upkeep.ts';

type Texts = Record<
  'machine' | 'from' | 'to' | 'low' | 'high' | 'position' | 'note' | 'basis' | 'source',
  string
>;
const basisKinds = ['shop-measured', 'common-practice', 'published', 'demo'] as const;

const textsOf = (one: EditableFitment | null): Texts => {
  const [kind = 'shop-measured', source = ''] = (one?.basis ?? '').split(/: (.*)/s);
  return {
    machine: one?.modelId ? `m ${one.modelId}` : one?.familyId ? `f ${one.familyId}` : '',
    from: String(one?.years.from ?? ''),
    to: String(one?.years.to ?? ''),
    low: one?.frames.from ?? '',
    high: one?.frames.to ?? '',
    position: one?.position ?? '',
    note: one?.note ?? '',
    basis: kind || 'shop-measured',
    source,
  };
};

const such = 'a year such as 2014';

function FitmentForm(props: {
  card: PartCard;
  who: string;
  fitment: EditableFitment | null;
  onDone: () => void;
}) {
  const { card, who, fitment, onDone } = props;
  const models = useRead('models.list', {}, { stale: 60_000 });
  const upkeep = useUpkeep(card, who);
  const [texts, setTexts] = useState(() => textsOf(fitment));
  const [slip, setSlip] = useState<unknown>(null);
  // Sent twice, it is one fitment.
  const [fitmentId] = useState(() => fitment?.fitmentId ?? newId());
  const families = new Map((models.data?.models ?? []).map((model) => [model.familyId, model.family]));
  const set = (part: Partial<Texts>): void => setTexts((before) => ({ ...before, ...part }));
  const line = (key: keyof Texts, label: string, hint?: string) => (
    <Field label={label} hint={hint}>
      {(ids) => (
        <input
          {...ids}
          value={texts[key]}
          maxLength={200}
          autoComplete="off"
          inputMode={key === 'from' || key === 'to' ? 'numeric' : 'text'}
          onChange={(event) => set({ [key]: event.target.value })}
        />
      )}
    </Field>
  );
  const send = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    const [sort, id = ''] = texts.machine.split(' ');
    let years: { from: number | null; to: number | null };
    try {
      years = {
        from: readWhole(texts.from, 'First year', such),
        to: readWhole(texts.to, 'Last year', such),
      };
      setSlip(null);
    } catch (error) {
      setSlip(error);
      return;
    }
    const done = await upkeep.run('parts.saveFitment', {
      fitmentId,
      modelId: sort === 'm' ? id : null,
      familyId: sort === 'f' ? id : null,
      years,
      frames: { from: texts.low.trim() || null, to: texts.high.trim() || null },
      position: texts.position,
      note: texts.note,
      basis: {
        kind: basisKinds.find((kind) => kind === texts.basis) ?? 'shop-measured',
        ...(texts.source.trim() ? { source: texts.source.trim() } : {}),
      },
    });
    if (done) onDone();
  };
  return (
    <form
      className={styles.inner}
      aria-label={fitment ? 'Change a fitment' : 'New fitment'}
      onSubmit={(event) => void send(event)}
    >
      <div className={styles.fields}>
        <Field label="Fits" wide>
          {(ids) => (
            <select
              {...ids}
              required
              value={texts.machine}
              onChange={(event) => set({ machine: event.target.value })}
            >
              <option value="">Choose a model or an engine family</option>
              <optgroup label="Models">
                {(models.data?.models ?? []).map((model) => (
                  <option key={model.modelId} value={`m ${model.modelId}`}>
                    {model.title}
                  </option>
                ))}
              </optgroup>
              <optgroup label="Engine families">
                {[...families].map(([id, title]) => (
                  <option key={id} value={`f ${id}`}>
                    {title}
                  </option>
                ))}
              </optgroup>
            </select>
          )}
        </Field>
        {line('from', 'First year')}
        {line('to', 'Last year')}
        {line('low', 'First frame number')}
        {line('high', 'Last frame number')}
        {line('position', 'Position', 'Such as front left.')}
        {line('note', 'Note')}
        <Field label="How we know">
          {(ids) => (
            <select {...ids} value={texts.basis} onChange={(event) => set({ basis: event.target.value })}>
              {basisKinds.map((kind) => (
                <option key={kind} value={kind}>
                  {basisWords[kind]}
                </option>
              ))}
            </select>
          )}
        </Field>
        {texts.basis === 'published' ? line('source', 'Where it stands', 'Title and section.') : null}
      </div>
      <ProblemNote problem={slip ?? upkeep.problem} />
      <div className={styles.actions}>
        <Button type="submit" look="main" size="row" disabled={upkeep.isBusy}>
          {fitment ? 'Save the fitment' : 'Add the fitment'}
        </Button>
        <Button size="row" onClick={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  );
}

/** What the part fits, line by line. */
export function FitmentsOfPart({ card, who }: { card: PartCard; who: string }) {
  const upkeep = useUpkeep(card, who);
  /** The fitment in hand; `new` for one more. */
  const [open, setOpen] = useState<string | null>(null);
  const close = (): void => setOpen(null);
  return (
    <section className={styles.card} aria-label="What it fits">
      <h2>What it fits</h2>
      {card.fitments.length === 0 ? <p>No machine is listed for it yet.</p> : null}
      <ul className={styles.lines}>
        {card.fitments.map((one) =>
          open === one.fitmentId ? (
            <li key={one.fitmentId}>
              <FitmentForm card={card} who={who} fitment={one} onDone={close} />
            </li>
          ) : (
            <li key={one.fitmentId} className={styles.line}>
              <span>
                {fitmentWords(one)} <span className={styles.soft}>{basisWords[one.basis] ?? one.basis}</span>
              </span>
              <Button
                size="row"
                aria-label={`Change: ${fitmentWords(one)}`}
                onClick={() => setOpen(one.fitmentId)}
              >
                Change
              </Button>
              <Button
                size="row"
                look="quiet"
                aria-label={`Take away: ${fitmentWords(one)}`}
                disabled={upkeep.isBusy}
                onClick={() => void upkeep.run('parts.removeFitment', { fitmentId: one.fitmentId })}
              >
                Take away
              </Button>
            </li>
          ),
        )}
      </ul>
      <ProblemNote problem={upkeep.problem} />
      {open === 'new' ? (
        <FitmentForm card={card} who={who} fitment={null} onDone={close} />
      ) : (
        <div className={styles.actions}>
          <Button size="row" onClick={() => setOpen('new')}>
            Add a fitment
          </Button>
        </div>
      )}
    </section>
  );
}
