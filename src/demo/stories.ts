import { type Book, type Cause, existsOn, type Model, type Symptom } from '../book/index.ts';
import { suppliers } from './names.ts';

/** What is planted in the invented ledger for the office to find. */
export interface Stories {
  /** A bad batch of starter relays on one model in one season. */
  readonly relay: {
    readonly modelId: string;
    readonly cause: Cause;
    readonly symptom: Symptom;
    readonly fromMs: number;
    readonly untilMs: number;
    readonly supplier: string;
  } | null;
  /** Drive belts of one supplier do not last. */
  readonly belt: { readonly supplier: string; readonly kind: string } | null;
}

const day = 86_400_000;

/** A part kind that stands for the story. */
const relayKind = 'starter-relay';
const beltKind = 'drive-belt';

export function plantedStories(book: Book, untilMs: number): Stories {
  const symptom = [...book.symptoms.values()].find((one) => one.id === 'start-click');
  // The second most usual model with a relay start: enough vehicles to show, not the one that is everywhere.
  const model = [...book.models.values()].filter((one) => one.traits.starter === 'relay')[1];
  const cause =
    symptom &&
    model &&
    symptom.priors
      .map((prior) => book.causes.get(prior.causeId))
      .find(
        (one) =>
          one !== undefined &&
          one.componentId === relayKind &&
          one.repair.parts.some((part) => part.kind === relayKind) &&
          existsOn(one.on, model.traits),
      );
  return {
    relay:
      symptom && model && cause
        ? {
            modelId: model.id,
            cause,
            symptom,
            fromMs: untilMs - 120 * day,
            untilMs: untilMs - 20 * day,
            supplier: suppliers[1],
          }
        : null,
    belt: book.partKinds.has(beltKind) ? { supplier: suppliers[3], kind: beltKind } : null,
  };
}

export const inRelayBatch = (stories: Stories, model: Model, ms: number): boolean =>
  stories.relay !== null &&
  model.id === stories.relay.modelId &&
  ms >= stories.relay.fromMs &&
  ms < stories.relay.untilMs;

export const beltComesBack = (
  stories: Stories,
  job: { readonly parts: readonly { readonly kind: string; readonly supplier: string }[] },
): boolean =>
  stories.belt !== null &&
  job.parts.some((part) => part.kind === stories.belt?.kind && part.supplier === stories.belt.supplier);
