import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { AdvisoryView, VisitView } from '../../api/contract.ts';
import { DoNotRide } from '../pieces/do-not-ride.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { urgencyWords } from '../words/labels.ts';
import { dayWords } from '../words/time.ts';
import { kilometers } from '../words/units.ts';
import { visitOutcome } from '../words/visit-outcome.ts';
import styles from './known-vehicle.module.css';

function OpenAdvisories({ advisories }: { advisories: readonly AdvisoryView[] }) {
  const open = advisories.filter(({ state }) => state === 'open');
  if (open.length === 0) return null;
  return (
    <>
      <h3 className={styles.head}>Open advisories</h3>
      <ul>
        {open.map((advisory) => (
          <li key={advisory.advisoryId} className={styles.line}>
            {advisory.doNotRide ? <DoNotRide small /> : <strong>{urgencyWords[advisory.urgency]}</strong>}{' '}
            {advisory.words} <Link to={`/bench/${advisory.jobNumber}`}>job {advisory.jobNumber}</Link>
          </li>
        ))}
      </ul>
    </>
  );
}

function Visits({ visits }: { visits: readonly VisitView[] }) {
  return (
    <>
      <h3 className={styles.head}>Earlier visits</h3>
      {visits.length === 0 ? <p className={styles.line}>None. This is the first one.</p> : null}
      <ul>
        {visits.slice(0, 5).map((visit) => (
          <li key={visit.jobId} className={styles.line}>
            <Link to={`/bench/${visit.number}`}>{dayWords(visit.openedAt)}</Link>
            {visit.mileage_km === null ? '' : ` · ${kilometers(visit.mileage_km)}`}
            {visit.concerns.map((concern) => (
              <p key={concern.words}>
                {concern.symptom ?? `“${concern.words}”`}: {visitOutcome(concern)}
                {concern.comeback ? <strong> (came back)</strong> : null}
              </p>
            ))}
          </li>
        ))}
      </ul>
    </>
  );
}

/** The vehicle with its owner, its open advisories and its visits; what goes on the card stands above the visits. */
export function KnownVehicle({ vehicleId, children }: { vehicleId: string; children: ReactNode }) {
  const known = useRead('vehicles.get', { vehicleId });
  if (!known.isSuccess)
    return (
      <>
        {known.isPending ? <Waiting what="Looking up the vehicle" /> : null}
        <ProblemNote problem={known.error} onRetry={() => void known.refetch()} />
        {children}
      </>
    );
  const { vehicle, visits, advisories } = known.data;
  return (
    <div>
      <p className={styles.plate}>{vehicle.plate ?? vehicle.frame ?? 'no plate'}</p>
      <p>
        <strong>{vehicle.modelTitle}</strong>
        {vehicle.year ? ` (${vehicle.year})` : ''}
        {vehicle.color ? `, ${vehicle.color}` : ''}
        {vehicle.mileage_km === null ? '' : ` · ${kilometers(vehicle.mileage_km)}`}
      </p>
      {vehicle.customer ? (
        <p>
          {vehicle.customer.name}
          {vehicle.customer.phone ? ` · ${vehicle.customer.phone}` : ''}
        </p>
      ) : null}
      {vehicle.customer?.note ? <p className={styles.soft}>{vehicle.customer.note}</p> : null}
      <OpenAdvisories advisories={advisories} />
      {children}
      <Visits visits={visits} />
    </div>
  );
}
