import type { CircuitId, FamilyId, ModelId } from '../terms.ts';
import type { Basis } from './basis.ts';
import type { MachineTraits } from './machine.ts';

/** Engines that share their parts and their weaknesses. */
export interface EngineFamily {
  readonly id: FamilyId;
  readonly title: string;
  readonly displacement_cm3: number;
  readonly traits: MachineTraits;
}

export interface Model {
  readonly id: ModelId;
  readonly maker: string;
  readonly name: string;
  readonly familyId: FamilyId;
  readonly years: { readonly from: number; readonly to: number };
  /** The family's traits with the model's own on top. */
  readonly traits: MachineTraits;
  readonly circuitIds: readonly CircuitId[];
  /** Words people use for it, for search. */
  readonly aliases: readonly string[];
  readonly basis: Basis;
}
