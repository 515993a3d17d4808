import { useCallback, useState } from 'react';
import type { OutputOf } from '../../api/contract.ts';
import { client } from '../session/client.ts';

/** Looks into a backup without changing anything. */
export function usePreview(path: string) {
  const [preview, setPreview] = useState<OutputOf<'shop.restore'> | null>(null);
  const [problem, setProblem] = useState<unknown>(null);
  const look = useCallback(async (): Promise<void> => {
    setProblem(null);
    try {
      setPreview(await client.call('shop.restore', { path, preview: true }));
    } catch (error) {
      setProblem(error);
    }
  }, [path]);
  return { preview, problem, look };
}
