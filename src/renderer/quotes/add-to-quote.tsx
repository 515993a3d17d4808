import type { KeyboardEvent } from 'react';
import { Button } from '../pieces/button.tsx';
import { type AddTarget, useAddPart } from './use-add-part.ts';

interface Props extends AddTarget {
  partNumber: string;
  quantity?: number;
}

/** Puts a part onto the quote at hand. The plus key does the same where a part is marked. */
export function AddToQuote({ partNumber, quantity = 1, ...target }: Props) {
  const { add, isBusy } = useAddPart(target);
  return (
    <Button
      size="row"
      data-add-to-quote={partNumber}
      aria-label={`Add to quote: ${partNumber}`}
      aria-keyshortcuts="+"
      disabled={isBusy}
      onClick={() => void add(partNumber, quantity)}
    >
      Add to quote <kbd>+</kbd>
    </Button>
  );
}

/**
 * The plus key on a list of parts: adds the part that has the focus, else the first one. In a field that is typed into it
 * writes a plus, unless the field says that it means a part.
 */
export function onAddKey(event: KeyboardEvent<HTMLElement>): void {
  if (event.key !== '+' || event.ctrlKey || event.altKey || event.metaKey) return;
  const target = event.target as HTMLElement;
  if (target.closest('input, textarea, select')) return;
  const button =
    target.closest('article, section')?.querySelector<HTMLButtonElement>('[data-add-to-quote]') ??
    event.currentTarget.querySelector<HTMLButtonElement>('[data-add-to-quote]');
  if (!button) return;
  event.preventDefault();
  button.click();
}
