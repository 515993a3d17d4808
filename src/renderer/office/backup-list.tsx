import { useState } from 'react';
import type { OutputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Empty, Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { whenWords } from '../words/time.ts';
import { bytesWords } from '../words/units.ts';
import styles from './backup-page.module.css';
import { RestoreDialog } from './restore-dialog.tsx';

const kinds: Record<OutputOf<'shop.backups'>['backups'][number]['kind'], string> = {
  made: 'made by hand',
  'before-upgrade': 'before an update of Bench Tally',
  'kept-aside': 'kept aside at a restore',
};

/**
 * The backups in the data folder, each with the way back to it.
 * @param none what to do where there is none
 */
export function BackupList({ none }: { none: string }) {
  const list = useRead('shop.backups', {});
  const [path, setPath] = useState<string | null>(null);
  return (
    <>
      <ProblemNote problem={list.error} onRetry={() => void list.refetch()} />
      {list.isPending ? <Waiting what="Looking for backups" /> : null}
      {list.data?.backups.length === 0 ? <Empty title="No backup yet.">{none}</Empty> : null}
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
