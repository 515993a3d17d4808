import type { SpecId } from '../terms.ts';
import type { Basis } from './basis.ts';
import type { ExistsOn } from './machine.ts';

/** What a healthy component shows. At least one of the two limits is a number. */
export interface Spec {
  readonly id: SpecId;
  readonly title: string;
  readonly componentId: string;
  readonly quantity: string;
  readonly unit: string;
  readonly low: number | null;
  readonly high: number | null;
  readonly conditions: string;
  readonly on: ExistsOn;
  /** Only on these models; empty means every machine that `on` allows. */
  readonly modelIds: readonly string[];
  readonly basis: Basis;
}

/** A kind of part that a repair asks for; the catalog says which number fits which machine. */
export interface PartKind {
  readonly id: string;
  readonly title: string;
  /** Decimal string, in the shop's currency: what it typically costs before the catalog knows better. */
  readonly typicalPrice: string;
  readonly basis: Basis;
}
