import type { SymptomId } from '../terms.ts';

/** The one question that separates symptoms which sound alike. */
export interface SeparatingQuestion {
  readonly id: string;
  readonly ask: string;
  readonly answers: readonly { readonly say: string; readonly symptomId: SymptomId }[];
}
