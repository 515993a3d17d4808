/** Forms of the value a fault may carry. */
import { z } from 'zod';
import { nodeName, ohm, positiveVolt } from '../circuit-form.ts';
import type { AppliedFault, FaultMode } from '../kind.ts';

/** A number of ohms, also written {ohm} or {resistance_ohm}. */
export const ohmValue = z.preprocess((value) => {
  if (typeof value !== 'object' || value === null) return value;
  const record = value as Record<string, unknown>;
  return record.ohm ?? record.resistance_ohm ?? value;
}, ohm);

/** A share from 0 to 1. */
export const fractionValue = z.number().min(0).max(1);

/** {emf_v, resistance_ohm}, each with a standard; a bare number is emf_v. */
export function batteryValue(standard: { emf_v: number; resistance_ohm: number }) {
  return z.preprocess(
    (value) => {
      if (typeof value === 'number') return { ...standard, emf_v: value };
      return typeof value === 'object' && value !== null ? { ...standard, ...value } : value;
    },
    z.strictObject({ emf_v: positiveVolt, resistance_ohm: ohm }),
  );
}

/** {node, ohm}: where a wire has rubbed through to, and how well it touches (0.01 Ω). A bare string is the node. */
export const nodeValue = z.preprocess(
  (value) => {
    if (typeof value === 'string') return { node: value, ohm: 0.01 };
    return typeof value === 'object' && value !== null ? { ohm: 0.01, ...value } : value;
  },
  z.strictObject({ node: nodeName, ohm }),
);

/** A fault mode with a value in ohms. */
export function ohmMode<C>(
  slot: string,
  title: string,
  standard: number | ((c: C) => number | null),
): FaultMode<C> {
  return {
    slot,
    title,
    value: {
      form: ohmValue,
      unit: 'ohm',
      standard: typeof standard === 'number' ? () => standard : standard,
    },
  };
}

export function plainMode<C>(slot: string, title: string): FaultMode<C> {
  return { slot, title };
}

/** The short to another node every wire-like part can have; the node must be given. */
export const shortedTo: FaultMode<never> = {
  slot: 'short',
  title: 'rubbed through: its first end touches another node',
  value: { form: nodeValue, unit: 'node', standard: () => null },
};

/**
 * Resistance of a two-ended part under the faults of the slot `body`: null for a mode without value
 * (open, blown, burnt out), the value of the mode otherwise.
 */
export function bodyOhm(fault: AppliedFault | undefined, healthy: number): number | null {
  if (!fault) return healthy;
  return typeof fault.value === 'number' ? fault.value : null;
}
