import { Link } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { useRead } from '../session/use-read.ts';
import { dayWords } from '../words/time.ts';

/** "2 kept, 1 used, 1 on order for Nov 28, 2026". */
function stockOfJob({ parts, orders }: OutputOf<'stock.list'>): string {
  const sum = (counts: readonly number[]): number => counts.reduce((all, one) => all + one, 0);
  const kept = sum(parts.map((part) => part.job?.reserved ?? 0));
  const used = sum(parts.map((part) => part.job?.used ?? 0));
  const open = orders.filter((order) => order.arrived < order.quantity);
  const coming = sum(open.map((order) => order.quantity - order.arrived));
  const last = open
    .flatMap((order) => order.expectedAt ?? [])
    .sort((one, other) => Date.parse(one) - Date.parse(other))
    .at(-1);
  return [
    kept > 0 ? `${kept} kept` : '',
    used > 0 ? `${used} used` : '',
    coming > 0 ? `${coming} on order${last ? ` for ${dayWords(last)}` : ''}` : '',
    coming === 0 && orders.length > 0 ? 'all that was ordered is here' : '',
  ]
    .filter((words) => words !== '')
    .join(', ');
}

/** Leads from a job to the parts for its causes, and to its quotes; says what is here and what is to come. */
export function JobPartsLink({ number, jobId }: { number: number; jobId?: string }) {
  const stock = useRead('stock.list', jobId === undefined ? null : { jobId });
  const words = stock.data ? stockOfJob(stock.data) : '';
  return (
    <p>
      <Link to={`/bench/${number}/parts`}>Parts for this job</Link>
      {words === '' ? '' : ` (${words})`}
      {' · '}
      <Link to={`/bench/${number}/quote`}>Quotes for this job</Link>
    </p>
  );
}
