import { useState } from 'react';
import type { OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { whenWords } from '../words/time.ts';
import { bytesWords, countWords } from '../words/units.ts';
import styles from './backup-page.module.css';
import { RestoreDialog } from './restore-dialog.tsx';

const kinds: Record<OutputOf<'shop.backups'>['backups'][number]['kind'], string> = {
  made: 'made by hand',
  'before-upgrade': 'before an update of Bench Tally',
  'kept-aside': 'kept aside at a restore',
};
const changes = ['shop.backups'] as const;

/** Copies of the shop's data, and the way back to one of them. */
export function BackupPage() {
  const list = useRead('shop.backups', {});
  const status = useRead('shop.status', {});
  const backup = useWrite('shop.backup', changes);
  const [path, setPath] = useState<string | null>(null);
  const make = async (): Promise<void> => {
    const made = await backup.run({});
    if (made) say(`The backup holds ${countWords(made.jobs, 'job')} and was opened to verify it.`);
  };
  return (
    <>
      <h1>Backup</h1>
      <p>
        A backup is written and verified while work goes on. Copy it to another disk or a stick from time to
        time.
        {status.data ? ` Data and backups are in ${status.data.dataFolder}.` : ''}
      </p>
      <div>
        <Button look="main" disabled={backup.isBusy} onClick={() => void make()}>
          {backup.isBusy ? 'Writing the backup…' : 'Back up now'}
        </Button>
      </div>
      <ProblemNote problem={backup.problem} />
      <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />
      {list.isPending ? <Waiting what="Looking for backups" /> : null}
      {list.data?.backups.length === 0 ? <Empty title="No backup yet.">Press “Back up now”.</Empty> : null}
      {list.data && list.data.backups.length > 0 ? (
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">What</th>
              <th scope="col">Size</th>
              <th scope="col">File</th>
              <th scope="col">
                <span className="unseen">Restore</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {list.data.backups.map((file) => (
              <tr key={file.file}>
                <td>{whenWords(file.at)}</td>
                <td>{kinds[file.kind]}</td>
                <td className={styles.number}>{bytesWords(file.bytes)}</td>
                <td className={styles.file}>{file.file}</td>
                <td>
                  <Button size="row" onClick={() => setPath(file.file)}>
                    Look at it
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      {path === null ? null : <RestoreDialog path={path} onDone={() => setPath(null)} />}
    </>
  );
}
