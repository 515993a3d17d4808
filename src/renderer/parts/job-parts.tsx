import { Link, useParams } from 'react-router';
import type { ConcernView, InputOf, JobView } from '../../api/contract.ts';
import { useRepair } from '../bench/use-repair.ts';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { AddToQuote, onAddKey } from '../quotes/add-to-quote.tsx';
import { useRead } from '../session/use-read.ts';
import { JobStock } from '../stock/job-stock.tsx';
import { KeepForJob } from '../stock/keep-for-job.tsx';
import { percent } from '../words/units.ts';
import { FitList } from './fit-list.tsx';
import styles from './parts.module.css';

/** More causes than this are not worth ordering parts for. */
const shownCauses = 3;

interface CauseProps {
  jobId: string;
  number: number;
  causeId: string;
  title: string;
  says: string;
  machine: Pick<InputOf<'parts.fit'>, 'vehicleId' | 'modelId'> | null;
}

function PartsOfCause({ jobId, number, causeId, title, says, machine }: CauseProps) {
  const repair = useRepair(causeId);
  return (
    <section aria-label={title} className={styles.list}>
      <div className={styles.line}>
        <h2>{title}</h2>
        <span className={styles.soft}>{says}</span>
      </div>
      {repair ? <p>{repair.title}</p> : <Waiting />}
      {repair && repair.parts.length === 0 ? <p>This repair needs no part of the book.</p> : null}
      {repair?.parts.map((part) => (
        <div key={part.kind} className={styles.list}>
          <h3>
            {part.quantity > 1 ? `${part.quantity} × ` : ''}
            {part.title}
          </h3>
          {machine ? (
            <FitList
              ask={{ ...machine, kind: part.kind }}
              action={(fit) => (
                <>
                  <AddToQuote
                    job={{ jobId, number }}
                    partNumber={fit.partNumber}
                    quantity={fit.quantity * part.quantity}
                  />
                  <KeepForJob fit={fit} jobId={jobId} />
                </>
              )}
            />
          ) : (
            <p>
              This machine has no model of the book.{' '}
              <Link to={`/counter/parts?kind=${part.kind}`}>Choose the model by hand</Link>
            </p>
          )}
        </div>
      ))}
    </section>
  );
}

function PartsOfConcern({ job, concern }: { job: JobView; concern: ConcernView }) {
  const isOpen = concern.state === 'open';
  const bench = useRead('jobs.bench', isOpen ? { jobId: job.jobId, concernId: concern.concernId } : null);
  const vehicle = job.vehicle;
  const machine = vehicle?.modelId ? { vehicleId: vehicle.vehicleId } : null;
  const ranked = (bench.data?.ranking?.causes ?? []).slice(0, shownCauses).map((cause) => ({
    causeId: cause.causeId,
    title: cause.title,
    says: percent(cause.probability),
  }));
  const proven =
    concern.closing?.kind === 'proven'
      ? concern.closing.causes.flatMap((cause, at) =>
          'causeId' in cause
            ? [{ causeId: cause.causeId, title: concern.causes[at] ?? cause.causeId, says: 'proven' }]
            : [],
        )
      : [];
  const causes = isOpen ? ranked : proven;
  return (
    <div className={styles.causes}>
      <p>
        {isOpen ? 'The likeliest causes of' : 'What was found for'}{' '}
        <b>{concern.symptom ?? `“${concern.words}”`}</b>
      </p>
      <ProblemNote problem={bench.error} />
      {isOpen && bench.isPending ? <Waiting /> : null}
      {causes.length === 0 && !(isOpen && bench.isPending) ? (
        <Empty title="No cause of the book stands here.">
          Name the symptom at the bench, or find the part by hand.
        </Empty>
      ) : null}
      {causes.map((cause) => (
        <PartsOfCause
          key={cause.causeId}
          {...cause}
          jobId={job.jobId}
          number={job.number}
          machine={machine}
        />
      ))}
    </div>
  );
}

/** The parts for the causes of a job: the proven ones, or the likeliest while it is open. */
export function JobParts() {
  const number = Number(useParams().number);
  const job = useRead('jobs.get', { number: Number.isSafeInteger(number) ? number : 0 });
  if (job.isPending)
    return (
      <div className="page">
        <Waiting what="Getting the job card" />
      </div>
    );
  if (job.isError)
    return (
      <div className="page">
        <ProblemNote problem={job.error} onRetry={() => void job.refetch()} />
      </div>
    );
  const { vehicle } = job.data;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a key for the buttons inside, which work without it
    <div className={styles.page} onKeyDown={onAddKey}>
      <div className={styles.head}>
        <h1>Parts for job {job.data.number}</h1>
        <span>
          {vehicle ? `${vehicle.plate ?? 'no plate'} · ${vehicle.modelTitle}` : 'no vehicle on this card'}
        </span>
        <Link to={`/bench/${job.data.number}`}>Back to the bench</Link>
        <Link to={`/bench/${job.data.number}/quote`}>Quotes</Link>
        <Link to={`/counter/parts${vehicle?.modelId ? `?model=${vehicle.modelId}` : ''}`}>Find any part</Link>
      </div>
      <JobStock job={job.data} />
      {job.data.concerns.map((concern) => (
        <PartsOfConcern key={concern.concernId} job={job.data} concern={concern} />
      ))}
    </div>
  );
}
