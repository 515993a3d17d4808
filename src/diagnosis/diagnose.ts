import type { Book, Cause, Model, Symptom, TallyRow } from '../book/index.ts';
import { Problem, quoted } from '../problem.ts';
import type { SymptomId } from '../terms.ts';
import { type CauseShares, causeShares, type ScopeCounts } from './cause-shares.ts';
import { type Evidence, weighReadings } from './evidence.ts';
import { acceptReadings, type CircuitReading, type GivenReading, type ReadingInput } from './reading.ts';
import type { WiringLikelihood } from './wiring/wiring-likelihood.ts';

/** Concerns closed without a proven cause; they count apart. */
export interface ApartCounts {
  readonly notReproduced: number;
  readonly normal: number;
  readonly handling: number;
}

/** All that the ranking of one concern needs. */
export interface RankInput {
  readonly book: Book;
  readonly symptomId: SymptomId;
  /** Null or absent where the machine is not known: then every cause of the symptom competes. */
  readonly model?: Model | null | undefined;
  /** Every row of the symptom, all models; weights in millionths of a concern. */
  readonly tally: readonly TallyRow[];
  readonly apart?: ApartCounts | undefined;
  /**
   * Whole concerns proven for the symptom (model, family, all). Without it the rows are added up, which counts a concern
   * with two causes twice.
   */
  readonly of?: ScopeCounts | undefined;
  /** As given by a person or a program; checked against the book here. */
  readonly readings?: readonly ReadingInput[] | undefined;
  /** Seed of the intervals' draws; 1 when absent. */
  readonly seed?: number | undefined;
  readonly wiring?: WiringLikelihood | null | undefined;
}

/** Book, closed jobs and readings put together for one concern. */
export interface Diagnosis {
  readonly book: Book;
  readonly symptom: Symptom;
  readonly model: Model | null;
  readonly causes: readonly Cause[];
  readonly shares: CauseShares;
  readonly readings: readonly GivenReading[];
  readonly evidence: Evidence;
  /** In the order of `causes`, the last place for "not in the book"; sums to 1. */
  readonly probabilities: Float64Array;
  readonly wiring: WiringLikelihood | null;
}

/** Throws `not-found` for an unknown symptom and `bad-input` for readings the book does not understand. */
export function diagnose(input: RankInput): Diagnosis {
  const { book } = input;
  const symptom = book.symptoms.get(input.symptomId);
  if (!symptom) {
    throw new Problem('not-found', `The book has no symptom ${quoted(input.symptomId)}.`, {
      field: 'symptomId',
      id: input.symptomId,
    });
  }
  const model = input.model ?? null;
  const wiring = input.wiring ?? null;
  const readings = acceptReadings(input.readings ?? [], book, model?.traits);
  readings.forEach((reading, place) => {
    if (reading.kind === 'circuit') checkCircuitReading(reading, model, wiring, `readings[${place}]`);
  });
  const rows = input.tally.filter((row) => row.symptomId === symptom.id);
  const shares = causeShares(book, symptom, model, rows);
  const evidence = weighReadings(book, shares.causes, readings, wiring);
  return {
    book,
    symptom,
    model,
    causes: shares.causes,
    shares: input.of ? { ...shares, of: input.of } : shares,
    readings,
    evidence,
    probabilities: posterior(shares.alphas, evidence.likelihood),
    wiring,
  };
}

/** A probe in a circuit the machine does not have, or where it cannot be put, is refused with the field that is wrong. */
function checkCircuitReading(
  reading: CircuitReading,
  model: Model | null,
  wiring: WiringLikelihood | null,
  field: string,
): void {
  if (model && !model.circuitIds.includes(reading.circuitId)) {
    throw new Problem(
      'bad-input',
      `The ${model.maker} ${model.name} has no circuit ${quoted(reading.circuitId)}.`,
      {
        field: `${field}.circuitId`,
        id: reading.circuitId,
      },
    );
  }
  try {
    wiring?.checkProbe(reading);
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    const own = error.where?.field;
    const where = { ...error.where, field: own === undefined ? field : `${field}.${own}` };
    throw new Problem('bad-input', error.message, where, { cause: error });
  }
}

/** Shares times likelihood, scaled to sum to 1. */
export function posterior(shares: ArrayLike<number>, likelihood: ArrayLike<number>): Float64Array {
  const result = new Float64Array(shares.length);
  let total = 0;
  for (let k = 0; k < shares.length; k++) {
    const weight = (shares[k] as number) * (likelihood[k] as number);
    result[k] = weight;
    total += weight;
  }
  for (let k = 0; k < result.length; k++) result[k] = (result[k] as number) / total;
  return result;
}
