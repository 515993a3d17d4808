import type { CauseId, CheckId, FamilyId, ModelId, SpecId, SymptomId } from '../terms.ts';
import type { Cause, Component } from './cause.ts';
import type { Caution } from './caution.ts';
import type { Check, Precondition } from './check.ts';
import { existsOn, type MachineTraits } from './machine.ts';
import type { EngineFamily, Model } from './model.ts';
import type { SeparatingQuestion } from './question.ts';
import type { PartKind, Spec } from './spec.ts';
import type { Symptom } from './symptom.ts';

/** Everything the shop's book knows at one moment, by id. Circuits stay in their own form (`circuits`, parsed by the circuit room). */
export interface Book {
  /** Changes with every change of content. */
  readonly version: string;
  readonly symptoms: ReadonlyMap<SymptomId, Symptom>;
  readonly causes: ReadonlyMap<CauseId, Cause>;
  readonly checks: ReadonlyMap<CheckId, Check>;
  readonly specs: ReadonlyMap<SpecId, Spec>;
  readonly preconditions: ReadonlyMap<string, Precondition>;
  readonly cautions: ReadonlyMap<string, Caution>;
  readonly components: ReadonlyMap<string, Component>;
  readonly partKinds: ReadonlyMap<string, PartKind>;
  readonly models: ReadonlyMap<ModelId, Model>;
  readonly families: ReadonlyMap<FamilyId, EngineFamily>;
  readonly questions: readonly SeparatingQuestion[];
  /** Riders' words by symptom. */
  readonly phrases: ReadonlyMap<SymptomId, readonly string[]>;
  /** Texts that are no scooter fault, and texts about electric-drive scooters. */
  readonly outOfScope: readonly string[];
  readonly electricDrive: readonly string[];
  /** Circuit files as parsed YAML, by id. */
  readonly circuits: ReadonlyMap<string, unknown>;
}

/** The causes that can occur on this machine, with their priors for a symptom; shares of 100 as written in the book. */
export function candidateCauses(
  book: Book,
  symptom: Symptom,
  machine: MachineTraits | undefined,
): { readonly cause: Cause; readonly of100: number }[] {
  const found: { cause: Cause; of100: number }[] = [];
  for (const prior of symptom.priors) {
    const cause = book.causes.get(prior.causeId);
    if (cause && existsOn(cause.on, machine)) found.push({ cause, of100: prior.of100 });
  }
  return found;
}
