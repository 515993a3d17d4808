import type { Model, TallyRow } from '../book/index.ts';
import {
  nextChecks,
  type Plan,
  type RankInput,
  type Ranking,
  type ReadingInput,
  rankCauses,
} from '../diagnosis/index.ts';
import { loadClosed, loadTally } from '../store/index.ts';
import type { CauseId, CheckId, FamilyId, ModelId, SymptomId } from '../terms.ts';
import type { Desk } from './desk.ts';
import { modelOr404 } from './people.ts';
import { readShopSettings } from './settings.ts';

export interface Question {
  readonly symptomId: string;
  readonly modelId?: string | undefined;
  readonly readings?: readonly ReadingInput[] | undefined;
}

const idOrNull = <T extends string>(text: string): T | null => (text === '' ? null : (text as T));

/** Loads what a ranking needs: the symptom's tally and how many concerns closed how. */
export async function rankInput(desk: Desk, question: Question): Promise<RankInput> {
  const { book, wiringFor } = await desk.book();
  const model: Model | null =
    question.modelId === undefined ? null : modelOr404(book.models, question.modelId);
  const tally: TallyRow[] = (await loadTally(desk.db, question.symptomId)).map((row) => ({
    symptomId: row.symptom_id as SymptomId,
    causeId: row.cause_id as CauseId,
    modelId: idOrNull<ModelId>(row.model_id),
    familyId: idOrNull<FamilyId>(row.family_id),
    concerns: row.concerns,
    weight: row.weight,
  }));
  const closed = await loadClosed(desk.db, question.symptomId);
  const count = (outcome: string, only: (row: (typeof closed)[number]) => boolean = () => true): number =>
    closed.filter((row) => row.outcome === outcome && only(row)).reduce((sum, row) => sum + row.concerns, 0);
  return {
    book,
    symptomId: question.symptomId as SymptomId,
    model,
    tally,
    apart: {
      notReproduced: count('not-reproduced'),
      normal: count('normal'),
      handling: count('handling'),
    },
    of: {
      model: model ? count('proven', (row) => row.model_id === model.id) : 0,
      family: model ? count('proven', (row) => row.family_id === model.familyId) : 0,
      all: count('proven'),
    },
    readings: question.readings ?? [],
    wiring: wiringFor(model),
  };
}

export async function rankingFor(desk: Desk, question: Question): Promise<Ranking> {
  return rankCauses(await rankInput(desk, question));
}

export interface PlanQuestion extends Question {
  readonly done?: readonly string[] | undefined;
  readonly skipped?: readonly string[] | undefined;
  readonly limit?: number | undefined;
}

export async function planFor(desk: Desk, question: PlanQuestion): Promise<Plan> {
  const settings = await readShopSettings(desk.db);
  const input = await rankInput(desk, question);
  return nextChecks({
    ...input,
    done: (question.done ?? []) as CheckId[],
    skipped: (question.skipped ?? []) as CheckId[],
    laborPerMinute: Number(settings.laborRate) / 60,
    partPrice: () => null,
    limit: question.limit,
  });
}
