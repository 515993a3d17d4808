import { Link } from 'react-router';

/** Leads from a job to the parts for its causes, and to its quotes. */
export function JobPartsLink({ number }: { number: number }) {
  return (
    <p>
      <Link to={`/bench/${number}/parts`}>Parts for this job</Link>
      {' · '}
      <Link to={`/bench/${number}/quote`}>Quotes for this job</Link>
    </p>
  );
}
