import { CautionNote } from '../pieces/signal-word.tsx';
import { useRead } from '../session/use-read.ts';
import { isSignal, textOf } from './read-body.ts';

/** A caution of the book, in full, before what it guards. */
export function CautionById({ id }: { id: string }) {
  const read = useRead('handbook.read', { kind: 'caution', id }, { stale: 60_000 });
  const body = read.data?.body;
  if (!body || !isSignal(body.signal)) return null;
  return (
    <CautionNote
      caution={{
        id,
        signal: body.signal,
        hazard: textOf(body.hazard),
        avoid: textOf(body.avoid),
        doNotRide: body.do_not_ride === true,
      }}
    />
  );
}
