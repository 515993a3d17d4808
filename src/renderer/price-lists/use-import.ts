import { useCallback, useState } from 'react';
import type { ImportReport, ListPreview, WorkState } from '../../api/contract.ts';
import { Problem, type ProblemReport } from '../../problem.ts';
import { client, queries } from '../session/client.ts';
import { mappingOf, type Places, placed, placesOf } from './list-columns.ts';

type Sign = ListPreview['decimalSign'];

/** A list on its way in: the file that was handed over, what is said about it, and what was seen in a trial. */
interface Listed {
  readonly uploadId: string;
  readonly preview: ListPreview;
  readonly places: Places;
  readonly decimalSign: Sign;
  /** A person changed what was recognized. */
  readonly isTouched: boolean;
}

const listed = (uploadId: string, preview: ListPreview): Listed => ({
  uploadId,
  preview,
  places: placesOf(preview),
  decimalSign: preview.decimalSign,
  isTouched: false,
});

const changedReads = ['parts.find', 'parts.fit', 'parts.get', 'parts.card', 'parts.suppliers'] as const;

/** One price list from the file to the shelf of prices; nothing is kept before `bring` is done. */
export function useImport(supplier: string) {
  const [list, setList] = useState<Listed | null>(null);
  const [trial, setTrial] = useState<ImportReport | null>(null);
  const [result, setResult] = useState<ImportReport | null>(null);
  const [work, setWork] = useState<WorkState | null>(null);
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<unknown>(null);
  const [says, setSays] = useState<string | null>(null);

  const doing = useCallback(async (step: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setProblem(null);
    setSays(null);
    try {
      await step();
    } catch (error) {
      setProblem(error);
    } finally {
      setBusy(false);
      setWork(null);
    }
  }, []);

  const look = async (uploadId: string, name: string): Promise<void> => {
    const preview = await client.call('parts.previewList', { supplier: name, uploadId });
    setList(listed(uploadId, preview));
    setTrial(null);
  };

  const run = async (dryRun: boolean): Promise<ImportReport | null> => {
    if (!list) return null;
    const { workId } = await client.call('parts.importPrices', {
      supplier,
      uploadId: list.uploadId,
      mapping: mappingOf(list.places, list.preview.names),
      decimalSign: list.decimalSign,
      dryRun,
    });
    const last = await client.watch(workId, setWork);
    if (last.state === 'cancelled') {
      setSays('Stopped. Nothing of this list was kept.');
      return null;
    }
    const report = last.problem as ProblemReport | undefined;
    if (last.state !== 'done')
      throw report ? new Problem(report.code, report.message, report.where) : new Error(last.says);
    return last.result as ImportReport;
  };

  const restate = (part: Partial<Listed>): void => {
    setList((before) => (before ? { ...before, ...part, isTouched: true } : before));
    // What was seen in a trial holds only for what was said then.
    setTrial(null);
  };

  return {
    list,
    trial,
    result,
    work,
    isBusy,
    problem,
    says,
    choose: (file: File) =>
      doing(async () => {
        setList(null);
        setTrial(null);
        setResult(null);
        const { uploadId } = await client.upload(file, file.name);
        await look(uploadId, supplier);
      }),
    /** The columns may be remembered for a supplier who is named only now. */
    lookAgain: async () => {
      if (!list || list.isTouched) return;
      const { uploadId } = list;
      const preview = await client.call('parts.previewList', { supplier, uploadId }).catch(() => null);
      if (!preview?.isRemembered) return;
      // Meanwhile a person may have set the columns by hand; that holds.
      setList((before) =>
        before && !before.isTouched && before.uploadId === uploadId ? listed(uploadId, preview) : before,
      );
    },
    setColumn: (at: number, column: keyof Places | null) =>
      list ? restate({ places: placed(list.places, at, column) }) : undefined,
    setSign: (decimalSign: Sign) => restate({ decimalSign }),
    tryOut: () => doing(async () => setTrial(await run(true))),
    bring: () =>
      doing(async () => {
        const done = await run(false);
        if (!done) return;
        setResult(done);
        setTrial(null);
        // The file was used up.
        setList(null);
        await Promise.all(changedReads.map((name) => queries.invalidateQueries({ queryKey: [name] })));
      }),
    cancel: () => (work ? void client.call('work.cancel', { workId: work.workId }) : undefined),
  };
}
export type Import = ReturnType<typeof useImport>;
