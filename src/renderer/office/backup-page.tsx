import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { countWords } from '../words/units.ts';
import { BackupList } from './backup-list.tsx';

const changes = ['shop.backups'] as const;

/** Copies of the shop's data, and the way back to one of them. */
export function BackupPage() {
  const status = useRead('shop.status', {});
  const backup = useWrite('shop.backup', changes);
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
      <BackupList none="Press “Back up now”." />
    </>
  );
}
