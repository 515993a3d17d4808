import { useEffect } from 'react';
import { Button } from '../pieces/button.tsx';
import { Drawer } from '../pieces/drawer.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { queries } from '../session/client.ts';
import { say } from '../session/notices.ts';
import { useWrite } from '../session/use-write.ts';
import { whenWords } from '../words/time.ts';
import { bytesWords, countWords } from '../words/units.ts';
import styles from './backup-page.module.css';
import { usePreview } from './use-preview.ts';

/** Shows what a backup holds before it replaces anything. */
export function RestoreDialog({ path, onDone }: { path: string; onDone: () => void }) {
  const { preview, problem, look } = usePreview(path);
  const restore = useWrite('shop.restore');
  useEffect(() => void look(), [look]);
  const putInPlace = async (): Promise<void> => {
    const done = await restore.run({ path, preview: false });
    if (!done) return;
    await queries.invalidateQueries();
    onDone();
    say(
      `The backup is in place.${done.keptAside ? ` The data from before is kept in ${done.keptAside}.` : ''}`,
    );
  };
  return (
    <Drawer title="Restore a backup" isOpen onClose={onDone}>
      <ProblemNote problem={problem} onRetry={() => void look()} />
      {preview ? (
        <>
          <dl className={styles.facts}>
            <dt>File</dt>
            <dd className={styles.file}>{path}</dd>
            <dt>Holds</dt>
            <dd>
              {countWords(preview.jobs, 'job')}, {countWords(preview.vehicles, 'vehicle')},{' '}
              {bytesWords(preview.bytes)}
            </dd>
            <dt>Newest job</dt>
            <dd>{preview.newestJobAt ? whenWords(preview.newestJobAt) : 'none'}</dd>
            <dt>Schema</dt>
            <dd>version {preview.schemaVersion}</dd>
          </dl>
          <p className={styles.lost}>
            {preview.jobsLost === null
              ? 'The present data cannot be read, so nobody can say what of it is missing here.'
              : preview.jobsLost > 0
                ? `${countWords(preview.jobsLost, 'job')} now in use ${preview.jobsLost === 1 ? 'is' : 'are'} not in this backup.`
                : 'Every job now in use is also in this backup.'}{' '}
            The present data is kept aside, so that you can come back to it.
          </p>
          <div className={styles.actions}>
            <Button look="main" disabled={restore.isBusy} onClick={() => void putInPlace()}>
              Put this backup in place
            </Button>
            <Button onClick={onDone}>Leave everything as it is</Button>
          </div>
        </>
      ) : problem ? null : (
        <Waiting what="Opening the backup" />
      )}
      <ProblemNote problem={restore.problem} />
    </Drawer>
  );
}
