import { useSyncExternalStore } from 'react';

/** The quote that parts found at the Counter go onto, for as long as this window is open. */
export interface OpenQuote {
  readonly quoteId: string;
  readonly number: number;
  /** Its vehicle, else for whom it is in words; empty where neither is known. */
  readonly whose: string;
}

export const openQuoteOf = (quote: {
  readonly quoteId: string;
  readonly number: number;
  readonly vehicleId: string | null;
  readonly forWhom: string;
}): OpenQuote => ({
  quoteId: quote.quoteId,
  number: quote.number,
  whose: quote.vehicleId ?? quote.forWhom,
});

const key = 'open-quote';
const listeners = new Set<() => void>();
let open: OpenQuote | null = read();

function read(): OpenQuote | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(key) ?? 'null');
    return typeof kept === 'object' && kept !== null && 'quoteId' in kept && 'number' in kept
      ? {
          quoteId: String(kept.quoteId),
          number: Number(kept.number),
          whose: 'whose' in kept ? String(kept.whose) : '',
        }
      : null;
  } catch {
    return null;
  }
}

export function setOpenQuote(next: OpenQuote | null): void {
  if (open?.quoteId === next?.quoteId && open?.whose === next?.whose) return;
  open = next;
  sessionStorage.setItem(key, JSON.stringify(next));
  for (const listener of listeners) listener();
}

export const openQuote = (): OpenQuote | null => open;

export function useOpenQuote(): OpenQuote | null {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => open,
  );
}
