import { type ReactNode, useEffect, useRef } from 'react';
import { Link, NavLink, useLocation } from 'react-router';
import { Notices } from '../pieces/notices.tsx';
import { FindField } from './find-field.tsx';
import { Mark } from './mark.tsx';
import { ScreenGuard } from './screen-guard.tsx';
import styles from './shell.module.css';
import { ThemeSwitch } from './theme-switch.tsx';

const places = [
  { to: '/counter', title: 'Counter' },
  { to: '/bench', title: 'Bench' },
  { to: '/office', title: 'Office' },
  { to: '/handbook', title: 'Handbook' },
];

export function Shell({ children }: { children: ReactNode }) {
  const { pathname } = useLocation();
  const place = places.find(({ to }) => pathname.startsWith(to));
  const main = useRef<HTMLElement>(null);
  useEffect(() => {
    document.title = place ? `${place.title} · Bench Tally` : 'Bench Tally';
  }, [place]);
  return (
    <div className={styles.shell}>
      <button type="button" className={styles.skip} onClick={() => main.current?.focus()}>
        Skip to the page
      </button>
      <header className={styles.head}>
        <Link to="/" className={styles.mark}>
          <Mark />
          <span>Bench Tally</span>
        </Link>
        <nav className={styles.nav} aria-label="Places">
          {places.map(({ to, title }) => (
            <NavLink key={to} to={to} className={({ isActive }) => (isActive ? styles.on : '') ?? ''}>
              {title}
            </NavLink>
          ))}
        </nav>
        <div className={styles.right}>
          <FindField />
          <ThemeSwitch />
        </div>
      </header>
      <main className={styles.main} id="main" tabIndex={-1} ref={main}>
        <ScreenGuard place={pathname}>{children}</ScreenGuard>
      </main>
      <Notices />
    </div>
  );
}
