import type { InputOf, JobStatus } from '../../api/contract.ts';
import { jobStatuses } from '../../api/contract.ts';
import { Field, Tick } from '../pieces/field.tsx';
import { useRead } from '../session/use-read.ts';
import { statusWords } from '../words/labels.ts';
import { moneyField, readMoney } from '../words/money.ts';
import { fromField, toField, whenWords } from '../words/time.ts';
import styles from './job-card-drawer.module.css';
import { SavedField } from './saved-field.tsx';
import type { JobDesk } from './use-job.ts';

/** Status, promise, mileage, key tag, technician and consent. */
export function CardForm({ desk }: { desk: JobDesk }) {
  const { job } = desk;
  const status = useRead('shop.status', {});
  const settings = useRead('shop.settings', {}, { stale: 60_000 });
  const currency = status.data?.currency ?? 'USD';
  const set = (fields: InputOf<'jobs.update'>['set']): Promise<boolean> =>
    desk.run('jobs.update', { set: fields }).then((after) => after !== null);
  const draft = (field: string): string => `job/${job.jobId}/${field}`;
  return (
    <div className={styles.grid}>
      <Field label="Status" wide>
        {(ids) => (
          <select
            {...ids}
            value={job.status}
            onChange={(event) => void set({ status: event.target.value as JobStatus })}
          >
            {jobStatuses.map((each) => (
              <option key={each} value={each}>
                {statusWords[each]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <SavedField
        name={draft('promise')}
        label="Promised for"
        type="datetime-local"
        value={toField(job.promiseAt)}
        {...(job.promiseAt ? { says: whenWords(job.promiseAt) } : {})}
        onSave={(text) => set({ promiseAt: fromField(text) })}
      />
      <SavedField
        name={draft('mileage')}
        label="Mileage, km"
        inputMode="numeric"
        maxLength={9}
        value={job.mileage_km === null ? '' : String(job.mileage_km)}
        onSave={(text) => {
          const digits = text.replaceAll(/[\s.,]/g, '');
          if (digits === '') return set({ mileage_km: null });
          return /^\d{1,7}$/.test(digits)
            ? set({ mileage_km: Number(digits) })
            : 'Whole kilometers, such as 18400.';
        }}
      />
      <SavedField
        name={draft('key-tag')}
        label="Key tag"
        maxLength={20}
        value={job.keyTag ?? ''}
        onSave={(text) => set({ keyTag: text.trim() || null })}
      />
      <SavedField
        name={draft('technician')}
        label="Technician"
        maxLength={60}
        list="bench-technicians"
        value={job.technician ?? ''}
        onSave={(text) => set({ technician: text.trim() || null })}
      />
      <datalist id="bench-technicians">
        {settings.data?.technicians.map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <SavedField
        name={draft('limit')}
        label={`Diagnosis agreed up to, ${currency}`}
        inputMode="decimal"
        maxLength={12}
        placeholder="ask first"
        value={moneyField(job.consent.diagnosisUpTo)}
        onSave={(text) => {
          if (text.trim() === '') return set({ consent: { diagnosisUpTo: null } });
          const amount = readMoney(text, currency);
          return amount ? set({ consent: { diagnosisUpTo: amount } }) : 'An amount, such as 80 or 79.50.';
        }}
      />
      <div>
        <Tick
          label="Test ride is fine"
          isOn={job.consent.testRide}
          onChange={(testRide) => void set({ consent: { testRide } })}
        />
        <Tick
          label="Wants the old parts back"
          isOn={job.consent.oldPartsBack}
          onChange={(oldPartsBack) => void set({ consent: { oldPartsBack } })}
        />
      </div>
      <SavedField
        name={draft('note')}
        label="Note"
        isLong
        wide
        value={job.note ?? ''}
        onSave={(text) => set({ note: text.trim() || null })}
      />
    </div>
  );
}
