import type { CauseId, SymptomId } from '../terms.ts';

export const systems = [
  'starting',
  'power',
  'charging',
  'running',
  'ignition',
  'fuel',
  'engine',
  'cooling',
  'drive',
  'lighting',
  'instruments',
  'brakes',
  'chassis',
] as const;
export type System = (typeof systems)[number];

/** What a machine may be without under a complaint: an engine that runs, or anything electrical that answers. */
export const lacks = ['running-engine', 'power'] as const;
export type Lack = (typeof lacks)[number];

/** One prior: of 100 such complaints, how many this cause explains, and why the book thinks so. */
export interface Prior {
  readonly causeId: CauseId;
  /** Above 0, at most 100. */
  readonly of100: number;
  readonly because: string;
}

/** What the rider notices. */
export interface Symptom {
  readonly id: SymptomId;
  readonly system: System;
  readonly title: string;
  readonly meaning: string;
  /** Symptoms that the same fault may show as; a return with one of these counts as the same trouble. */
  readonly related: readonly SymptomId[];
  /** What the complaint takes away by its words, so that no check can count on it. */
  readonly lacks: readonly Lack[];
  readonly priors: readonly Prior[];
  /** Of 100 such complaints, how many have a cause that the book does not list. Always above 0. */
  readonly unlistedOf100: number;
}
