import { useState } from 'react';
import type { InputOf } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { client } from '../session/client.ts';
import styles from './report.module.css';
import { saveFile } from './save-file.ts';

type Asked = InputOf<'patterns.table'>;
type WithoutFormat<T> = T extends unknown ? Omit<T, 'format'> : never;
/** Which report the file is made of, and what it is asked. */
export type FileOf = WithoutFormat<Asked>;

const formats = [
  { format: 'csv', title: 'Download as CSV' },
  { format: 'xlsx', title: 'Download as Excel file' },
] as const;

/** The numbers of a table as a file. */
export function FileButtons({ file, about }: { file: FileOf; about: string }) {
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<unknown>(null);
  const save = async (format: 'csv' | 'xlsx'): Promise<void> => {
    setBusy(true);
    setProblem(null);
    try {
      const made = await client.call('patterns.table', { ...file, format } as Asked);
      saveFile(made.fileName, made.base64, made.mediaType);
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
    }
  };
  return (
    <div className={styles.files}>
      {formats.map(({ format, title }) => (
        <Button
          key={format}
          size="row"
          look="quiet"
          disabled={isBusy}
          aria-label={`${title}: ${about}`}
          onClick={() => void save(format)}
        >
          {title}
        </Button>
      ))}
      <ProblemNote problem={problem} />
    </div>
  );
}
