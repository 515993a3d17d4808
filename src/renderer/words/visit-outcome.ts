import type { VisitView } from '../../api/contract.ts';
import { apartWords } from './labels.ts';

const isApart = (outcome: string): outcome is keyof typeof apartWords => outcome in apartWords;

/** How a concern of an earlier visit ended: the causes that were proven, or why there was none. */
export function visitOutcome({ outcome, causes }: VisitView['concerns'][number]): string {
  if (causes.length > 0) return causes.join(' and ');
  if (isApart(outcome)) return apartWords[outcome].toLowerCase();
  return outcome === 'open' ? 'still open' : outcome;
}
