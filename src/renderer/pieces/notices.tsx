import { dropNotice, useNotices } from '../session/notices.ts';
import { Button } from './button.tsx';
import styles from './notices.module.css';

/** The foot of the window: short words on what just happened, with undo. */
export function Notices() {
  const notices = useNotices();
  return (
    <div className={styles.place} role="status" aria-live="polite">
      {notices.map((notice) => (
        <div key={notice.id} className={styles.notice}>
          <span>{notice.text}</span>
          {notice.undo ? (
            <Button
              size="row"
              onClick={() => {
                notice.undo?.run();
                dropNotice(notice.id);
              }}
            >
              {notice.undo.label}
            </Button>
          ) : null}
          <Button size="row" look="quiet" onClick={() => dropNotice(notice.id)}>
            Hide
          </Button>
        </div>
      ))}
    </div>
  );
}
