import { NavLink, Outlet } from 'react-router';
import styles from './office-screen.module.css';

const pages = [
  { to: '/office', title: 'The day' },
  { to: '/office/backup', title: 'Backup' },
  { to: '/office/settings', title: 'The shop' },
];

/** The Office: the day at a glance, and the upkeep of the shop's data. */
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
        <Outlet />
      </div>
    </div>
  );
}
