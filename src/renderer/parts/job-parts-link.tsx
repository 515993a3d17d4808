import { Link } from 'react-router';

/** Leads from a job to the parts for its causes. */
export function JobPartsLink({ number }: { number: number }) {
  return <Link to={`/bench/${number}/parts`}>Parts for this job</Link>;
}
