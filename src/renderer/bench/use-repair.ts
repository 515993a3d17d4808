import { useRead } from '../session/use-read.ts';
import { plain, sentence } from '../words/labels.ts';

interface Repair {
  readonly title: string;
  readonly proof: string;
  readonly parts: readonly { readonly kind: string; readonly quantity: number; readonly title: string }[];
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
const text = (value: unknown): string => (typeof value === 'string' ? value : '');

/** The repair of a cause as the book describes it: what to fit, what to retest. Null until it is read. */
export function useRepair(causeId: string | null): Repair | null {
  const entry = useRead('handbook.read', causeId ? { kind: 'cause', id: causeId } : null, { stale: 60_000 });
  const repair = entry.data?.body.repair;
  if (!isRecord(repair)) return null;
  const parts = Array.isArray(repair.parts) ? repair.parts : [];
  return {
    title: text(repair.title),
    proof: text(repair.proof),
    parts: parts.map((part) => {
      const kind = isRecord(part) ? text(part.kind) : text(part);
      const quantity = isRecord(part) && typeof part.quantity === 'number' ? part.quantity : 1;
      const related = entry.data?.related.find(({ id }) => id === kind)?.title;
      return { kind, quantity, title: related ?? sentence(plain(kind)) };
    }),
  };
}
