import { convert, unitNamed } from '../units.ts';
import type { Conditions } from './judgement.ts';
import { say } from './judgement.ts';

/** A workshop clamp resolves tenths of an ampere and drifts by more. Common practice, no source. */
const clampResolves_a = 0.5;
/** Test leads have about this much, ohm. Common practice, no source. */
const leads_ohm = 0.3;

export interface Asked {
  readonly value: number;
  readonly unit: string;
  readonly quantity: string;
  readonly low: number | null;
  readonly high: number | null;
}

/** Why the instrument cannot answer this, or null where it can (or nobody said which one it was). */
export function inability(asked: Asked, conditions: Conditions): string | null {
  const instrument = (conditions.instrument ?? '').toLowerCase();
  const unit = unitNamed(asked.unit);
  const quantity = asked.quantity.toLowerCase();
  if (unit?.measures === 'current' && instrument.includes('clamp')) {
    const ampere = unitNamed('A');
    const amperes = ampere ? Math.abs(convert(asked.value, unit, ampere)) : 0;
    const limit = ampere && asked.high !== null ? Math.abs(convert(asked.high, unit, ampere)) : amperes;
    if (Math.min(amperes, limit) < clampResolves_a) {
      return 'A clamp cannot resolve milliamperes; put a milliammeter in series at the battery negative.';
    }
  }
  if (unit?.measures === 'voltage') {
    const isPeak = /peak/.test(quantity);
    if (isPeak && instrument !== '' && !instrument.includes('peak')) {
      return 'Pulses are too short for a plain meter; use the peak adapter.';
    }
    if (/\bac\b/.test(quantity) && /^(voltmeter|dc)/.test(instrument)) {
      return 'A DC range shows next to nothing of alternating current; use the AC range.';
    }
  }
  if (instrument.includes('test-lamp') && /drop|resistance/.test(quantity)) {
    return 'A test lamp shows presence, not capacity; use a meter.';
  }
  if (unit?.measures === 'resistance' && conditions.lead_ohm === undefined) {
    const ohm = unitNamed('ohm');
    if (!ohm) return null;
    const ohms = convert(asked.value, unit, ohm);
    const isNear = [asked.low, asked.high].some(
      (limit) =>
        limit !== null &&
        convert(limit, unit, ohm) < 1 &&
        Math.abs(convert(limit, unit, ohm) - ohms) < leads_ohm,
    );
    if (isNear) {
      return `${say(ohms)} ohm is within what the test leads have themselves (about ${leads_ohm} ohm): touch them together and note it as lead_ohm (0 when the meter was zeroed).`;
    }
  }
  return null;
}
