import { Suspense } from 'react';
import { NavLink, Outlet } from 'react-router';
import { Waiting } from '../pieces/empty.tsx';
import styles from './office-screen.module.css';

const pages = [
  { to: '/office', title: 'The day' },
  { to: '/office/patterns', title: 'What keeps coming back' },
  { to: '/office/recurring', title: 'Recurring faults' },
  { to: '/office/months', title: 'Month by month' },
  { to: '/office/comebacks', title: 'Did it hold' },
  { to: '/office/shelf', title: 'The shelf' },
  { to: '/office/book', title: 'Is the book right' },
  { to: '/office/backup', title: 'Backup' },
  { to: '/office/settings', title: 'The shop' },
];

/** The Office: the day at a glance, what keeps coming back, and the upkeep of the shop's data. */
export function OfficeScreen() {
  return (
    <div className={styles.office}>
      <nav className={styles.nav} aria-label="Office">
        {pages.map(({ to, title }) => (
          <NavLink key={to} to={to} end className={({ isActive }) => (isActive ? styles.on : '') ?? ''}>
            {title}
          </NavLink>
        ))}
      </nav>
      <div className={styles.page}>
        <Suspense fallback={<Waiting what="Opening the report" />}>
          <Outlet />
        </Suspense>
      </div>
    </div>
  );
}
