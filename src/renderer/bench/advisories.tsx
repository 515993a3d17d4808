import { useRef } from 'react';
import type { AdvisoryView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Field, Tick } from '../pieces/field.tsx';
import { KeptNote } from '../pieces/kept-note.tsx';
import { newId } from '../session/new-id.ts';
import { useDraft } from '../session/use-draft.ts';
import { urgencyWords } from '../words/labels.ts';
import styles from './job-card-drawer.module.css';
import type { JobDesk } from './use-job.ts';

type Urgency = AdvisoryView['urgency'];
interface NewAdvisory {
  readonly words: string;
  readonly urgency: Urgency;
  readonly doNotRide: boolean;
}
const noAdvisory: NewAdvisory = { words: '', urgency: 'soon', doNotRide: false };

function Line({ desk, advisory }: { desk: JobDesk; advisory: AdvisoryView }) {
  const settle = (state: AdvisoryView['state']): void =>
    void desk.run('jobs.settleAdvisory', { advisoryId: advisory.advisoryId, state });
  return (
    <li className={styles.line}>
      <span>
        <b>{urgencyWords[advisory.urgency]}:</b> {advisory.words}
        {advisory.jobId === desk.job.jobId ? '' : ` (job ${advisory.jobNumber})`}
      </span>
      {advisory.doNotRide && advisory.state !== 'settled' ? <DoNotRide small /> : null}
      {advisory.state === 'open' ? (
        <>
          <Button
            aria-label={`Done: ${advisory.words}`}
            disabled={desk.isBusy}
            onClick={() => settle('settled')}
          >
            Done
          </Button>
          <Button
            aria-label={`Declined: ${advisory.words}`}
            disabled={desk.isBusy}
            onClick={() => settle('declined')}
          >
            Declined
          </Button>
        </>
      ) : (
        <>
          <span>{advisory.state === 'settled' ? 'done' : 'declined by the customer'}</span>
          <Button look="quiet" onClick={() => settle('open')}>
            undo
          </Button>
        </>
      )}
    </li>
  );
}

/** Things found beside the concerns. They never count for a symptom. */
export function Advisories({ desk }: { desk: JobDesk }) {
  const input = useRef<HTMLInputElement>(null);
  const draft = useDraft<NewAdvisory>(`job/${desk.job.jobId}/advisory`, noAdvisory);
  const { words, urgency, doNotRide } = draft.value;
  const set = (fields: Partial<NewAdvisory>): void => draft.set((before) => ({ ...before, ...fields }));
  const all = [...desk.job.advisories, ...desk.job.earlierAdvisories];
  const add = async (): Promise<void> => {
    if (words.trim() === '' || desk.isBusy) return;
    const after = await desk.run('jobs.advise', {
      advisoryId: newId(),
      words: words.trim(),
      urgency,
      doNotRide,
    });
    if (!after) return;
    draft.clear();
    input.current?.focus();
  };
  return (
    <section className={styles.part}>
      <h3>Advisories</h3>
      <ul>
        {all.map((advisory) => (
          <Line key={advisory.advisoryId} desk={desk} advisory={advisory} />
        ))}
      </ul>
      {all.length === 0 ? <p className={styles.soft}>Nothing noted beside the concerns.</p> : null}
      <form
        className={styles.add}
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <div className={styles.whole}>
          <Field label="Found beside the concerns">
            {(ids) => (
              <input
                {...ids}
                ref={input}
                maxLength={4000}
                placeholder="Rear brake pads at 1 mm"
                value={words}
                onChange={(event) => set({ words: event.target.value })}
              />
            )}
          </Field>
        </div>
        <Field label="When">
          {(ids) => (
            <select
              {...ids}
              value={urgency}
              onChange={(event) => set({ urgency: event.target.value as Urgency })}
            >
              {(Object.keys(urgencyWords) as Urgency[]).map((each) => (
                <option key={each} value={each}>
                  {urgencyWords[each]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Button type="submit" disabled={desk.isBusy}>
          Add
        </Button>
        <div className={styles.whole}>
          <Tick
            label="Do not ride: brakes, steering, throttle, fuel leak or overcharging"
            isOn={doNotRide}
            onChange={(next) => set({ doNotRide: next })}
          />
        </div>
        <KeptNote draft={draft} />
      </form>
    </section>
  );
}
