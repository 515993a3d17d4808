import { BackupList } from '../office/backup-list.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';

/** The shop data cannot be opened: says why, and offers the backups, which is all that still works. */
export function ShutData({ problem, onRetry }: { problem: unknown; onRetry: () => void }) {
  return (
    <>
      <h1>The shop data cannot be opened</h1>
      <ProblemNote problem={problem} onRetry={onRetry} />
      <h2>Put a backup in place</h2>
      <p>
        Look at a backup before you take it: the newest one made before the trouble loses least. The file that
        cannot be opened is kept aside.
      </p>
      <BackupList none="Nothing was backed up in this data folder. A copy elsewhere can be put in place from the shell: the README says how." />
    </>
  );
}
