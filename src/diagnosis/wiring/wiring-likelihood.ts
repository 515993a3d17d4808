import type { CauseId, CheckId } from '../../terms.ts';
import type { CircuitReading } from '../reading.ts';

/**
 * What the wiring says a check or a probe shows under a cause. Null means that the wiring does not know, and the
 * handbook's own table counts. A cause whose fault has a value (resistive, discharged) stands on several severities;
 * without `severity` the answer is averaged over them by their weights. A null cause is the healthy machine.
 */
export interface WiringLikelihood {
  /** Weights of the severities of a cause, summing to 1; [1] where the cause has no value. */
  severitiesOf(causeId: CauseId): readonly number[];
  /** Chances of the check's outcomes, in the order of the check, summing to 1. */
  chancesFor(checkId: CheckId, causeId: CauseId | null, severity?: number): readonly number[] | null;
  /** Chances with two causes at once, at the middle severity of each; null where the wiring or the two together do not fit. */
  pairChancesFor(checkId: CheckId, first: CauseId, second: CauseId): readonly number[] | null;
  /** Probability density of a value in the unit of the check, per that unit. */
  densityFor(checkId: CheckId, causeId: CauseId | null, value: number, severity?: number): number | null;
  /** Density of a value, or chance of a lamp word, read somewhere in a circuit. */
  circuitLikelihood(reading: CircuitReading, causeId: CauseId | null, severity?: number): number | null;
  /** Throws what the circuit room throws for a probe that cannot be put there (unknown point, control, plug); says nothing otherwise. */
  checkProbe(reading: CircuitReading): void;
  /** What the check would show under the cause on this machine, in words with units. */
  expectedWords(checkId: CheckId, causeId: CauseId | null): string | null;
}
