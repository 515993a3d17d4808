/** Voltages and currents of an operating point as a person sees them: over all phase angles. */
import type { Branch } from './compile-circuit.ts';
import { conducts, voltsAt } from './network.ts';
import type { OperatingPoint, State } from './operating-point.ts';
import type { SeenWay } from './signs.ts';

export function mean(values: readonly number[]): number {
  if (values.length === 1) return values[0] as number;
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

export function rootMeanSquare(values: readonly number[]): number {
  if (values.length === 1) return Math.abs(values[0] as number);
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}

/** Amperes from `from` to `to`, at each angle. */
export function branchAmps(point: OperatingPoint, branch: Branch): number[] {
  return ampsInState(point.state, branch);
}

export function ampsInState(state: State, branch: Branch): number[] {
  return state.points.map(({ volts, valves, angle_rad }) =>
    conducts(branch, state.bits, valves) ? ampsAt(volts, branch, angle_rad) : 0,
  );
}

export function ampsAt(volts: readonly number[], branch: Branch, angle_rad: number): number {
  const emf_v =
    branch.peak_v === 0
      ? branch.emf_v
      : branch.emf_v + branch.peak_v * Math.sin(angle_rad + branch.phase_rad);
  return (voltsAt(volts, branch.from) - voltsAt(volts, branch.to) - emf_v) * branch.siemens;
}

export function seenWay(state: State, branch: Branch): SeenWay {
  const amps = ampsInState(state, branch);
  // Across a gap between islands there is no voltage to see.
  const volts = state.points.map(({ volts: v, joined }) =>
    (branch.from < 0 ? 0 : joined[branch.from]) === (branch.to < 0 ? 0 : joined[branch.to])
      ? voltsAt(v, branch.from) - voltsAt(v, branch.to)
      : 0,
  );
  return {
    mean_v: mean(volts),
    rms_v: rootMeanSquare(volts),
    mean_a: mean(amps),
    rms_a: rootMeanSquare(amps),
  };
}
