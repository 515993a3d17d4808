import { useEffect, useState } from 'react';
import type { WorkState } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { client } from '../session/client.ts';
import { workIdOf } from '../session/use-report.ts';
import styles from './report.module.css';

/** A wait beyond this is shown with its progress and can be ended. */
const long_ms = 1000;
const again_ms = 500;

interface Props {
  report: { readonly isPending: boolean; readonly isFetching: boolean; readonly key: string };
  what: string;
}

/** Says at once that a report is being counted; when it takes long, how far it is, and lets it be stopped. */
export function ReportWait({ report: { isPending, isFetching, key }, what }: Props) {
  const [isLong, setIsLong] = useState(false);
  const [state, setState] = useState<WorkState | null>(null);
  useEffect(() => {
    if (!isFetching) return;
    let isOver = false;
    const ask = async (): Promise<void> => {
      setIsLong(true);
      const workId = workIdOf(key);
      const told = workId ? await client.call('report.progress', { workId }).catch(() => null) : null;
      if (isOver) return;
      setState(told);
      timer = setTimeout(() => void ask(), again_ms);
    };
    let timer = setTimeout(() => void ask(), long_ms);
    return () => {
      isOver = true;
      clearTimeout(timer);
      setIsLong(false);
      setState(null);
    };
  }, [isFetching, key]);
  if (!isFetching || !(isPending || isLong)) return null;
  const stop = (): void => {
    const workId = workIdOf(key);
    if (workId) void client.call('report.cancel', { workId }).catch(() => undefined);
  };
  return (
    <div className={styles.wait}>
      <p role="status">{what}…</p>
      {isLong ? (
        <>
          <progress max={1} value={state?.progress ?? 0} aria-label={what} />
          <span>{state?.says}</span>
          <Button size="row" onClick={stop}>
            Stop
          </Button>
        </>
      ) : null}
    </div>
  );
}
