/** Signal words in their standard meaning (ANSI Z535.6): NOTICE never means injury. */
export const signalWords = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE'] as const;
export type SignalWord = (typeof signalWords)[number];

/** A caution stands before the step it guards: the hazard, what it does, how to avoid it. */
export interface Caution {
  readonly id: string;
  readonly signal: SignalWord;
  /** The hazard and its source, then the consequence. */
  readonly hazard: string;
  /** What to do so that it does not happen. */
  readonly avoid: string;
  /** True where nobody may ride the machine until it is put right. */
  readonly doNotRide: boolean;
}
