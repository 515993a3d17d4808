/** What a rider or technician notices of a component, and what it is judged from. */

/** One way through a component, over all phase angles (one angle in a circuit without alternating sources). */
export interface SeenWay {
  /** Mean and root mean square of v(from) − v(to), in volts. */
  readonly mean_v: number;
  readonly rms_v: number;
  /** Mean and root mean square of the current from `from` to `to`, in amperes. */
  readonly mean_a: number;
  readonly rms_a: number;
}

export interface SeenParts {
  way(path: string): SeenWay;
  isOn(bit: string): boolean;
}

export type SignKind = 'lamp' | 'sound' | 'relay' | 'motor' | 'flasher' | 'spark' | 'unit' | 'load';

export type SignWord =
  | 'bright'
  | 'dim'
  | 'dark'
  | 'loud'
  | 'weak'
  | 'silent'
  | 'in'
  | 'out'
  | 'normal'
  | 'slow'
  | 'still'
  | 'runs-on'
  | 'chatter'
  | 'flashes'
  | 'flashes-fast'
  | 'stays-lit'
  | 'stays-dark'
  | 'sparks'
  | 'no-spark'
  | 'works'
  | 'dead'
  | 'full'
  | 'part'
  | 'none';

export interface Sign {
  readonly sign: SignKind;
  readonly word: SignWord;
  /** Share of what the component shows when all is well: of rated power (lamp, load, sound), of nominal current (motor), 0 or 1 (relay). */
  readonly fraction: number;
}

/** A lamp is bright from 80 % of its rated voltage and dim from 15 % (the same limits as the test lamp's). */
export const BRIGHT_FROM = 0.8;
export const DIM_FROM = 0.15;

export function lampWord(volts: number, rated_v: number): 'bright' | 'dim' | 'dark' {
  const share = Math.abs(volts) / rated_v;
  // A share that is one rounding error short of the limit is on the limit.
  if (share >= BRIGHT_FROM - 1e-9) return 'bright';
  return share >= DIM_FROM - 1e-9 ? 'dim' : 'dark';
}
