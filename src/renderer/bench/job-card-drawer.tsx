import type { JobView } from '../../api/contract.ts';
import { JobPartsLink } from '../parts/job-parts-link.tsx';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Drawer } from '../pieces/drawer.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { whenWords } from '../words/time.ts';
import { Advisories } from './advisories.tsx';
import { Approvals } from './approvals.tsx';
import { CardForm } from './card-form.tsx';
import { ConcernsOfCard } from './concerns-of-card.tsx';
import styles from './job-card-drawer.module.css';
import type { JobDesk } from './use-job.ts';
import { VisitsOfCard } from './visits-of-card.tsx';

interface Props {
  desk: JobDesk;
  isOpen: boolean;
  onClose: () => void;
  problem: unknown;
}

function Owner({ job }: { job: JobView }) {
  const { vehicle } = job;
  if (!vehicle) return <p className={styles.soft}>No vehicle on this card.</p>;
  const { customer } = vehicle;
  return (
    <p>
      {vehicle.plate ? <b className={styles.plate}>{vehicle.plate}</b> : null} <b>{vehicle.modelTitle}</b>
      {vehicle.year ? ` (${vehicle.year})` : ''}
      {vehicle.color ? `, ${vehicle.color}` : ''}
      {customer ? (
        <>
          <br />
          {customer.name}
          {customer.phone ? (
            <>
              {' · '}
              <a href={`tel:${customer.phone.replaceAll(/[^+\d]/g, '')}`}>{customer.phone}</a>
            </>
          ) : null}
        </>
      ) : null}
    </p>
  );
}

/** The whole card of a visit. Everything on it saves as it is typed. */
export function JobCardDrawer({ desk, isOpen, onClose, problem }: Props) {
  const { job } = desk;
  return (
    <Drawer title={`Job ${job.number}`} isOpen={isOpen} onClose={onClose} place="side" leave="Done">
      <div className={styles.card}>
        {job.doNotRide ? (
          <p className={styles.loud}>
            <DoNotRide /> This machine must not leave under its own power. See the advisories below.
          </p>
        ) : null}
        <Owner job={job} />
        <JobPartsLink number={job.number} jobId={job.jobId} />
        <p className={styles.soft}>
          Opened {whenWords(job.openedAt)}. What you type is saved as you type it.
        </p>
        <div className={styles.problem}>
          <ProblemNote problem={problem} />
        </div>
        <CardForm desk={desk} />
        <ConcernsOfCard desk={desk} />
        <Advisories desk={desk} />
        <Approvals desk={desk} />
        <VisitsOfCard job={job} />
      </div>
    </Drawer>
  );
}
