import { Link } from 'react-router';
import type { JobView } from '../../api/contract.ts';
import { dayWords } from '../words/time.ts';
import { kilometers } from '../words/units.ts';
import { visitOutcome } from '../words/visit-outcome.ts';
import styles from './job-card-drawer.module.css';

/** What happened to this machine before. */
export function VisitsOfCard({ job }: { job: JobView }) {
  const earlier = job.visits.filter(({ jobId }) => jobId !== job.jobId);
  return (
    <section className={styles.part}>
      <h3>Earlier visits</h3>
      {earlier.length === 0 ? <p className={styles.soft}>None. This is the first one.</p> : null}
      <ul>
        {earlier.slice(0, 10).map((visit) => (
          <li key={visit.jobId} className={styles.line}>
            <span>
              {visit.concerns.map((concern) => (
                <span key={concern.words}>
                  {concern.symptom ?? `“${concern.words}”`}: {visitOutcome(concern)}
                  {concern.comeback ? <b> (came back)</b> : null}
                  <br />
                </span>
              ))}
            </span>
            <span className={styles.soft}>
              <Link to={`/bench/${visit.number}`}>job {visit.number}</Link>, {dayWords(visit.openedAt)}
              {visit.mileage_km === null ? '' : `, ${kilometers(visit.mileage_km)}`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
