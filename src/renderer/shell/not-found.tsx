import { Link } from 'react-router';
import { Empty } from '../pieces/empty.tsx';

export function NotFound() {
  return (
    <div className="page">
      <Empty title="There is no page at this address.">
        Go to the <Link to="/counter">Counter</Link> to take a scooter in, or to the{' '}
        <Link to="/bench">Bench</Link> for the open jobs.
      </Empty>
    </div>
  );
}
