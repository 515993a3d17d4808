import type { Probe } from '../../book/index.ts';
import {
  type Circuit,
  type Fault,
  type Instrument,
  type Reading,
  readingTable,
  type TableCheck,
} from '../../circuit/index.ts';
import { Problem } from '../../problem.ts';
import type { CircuitId } from '../../terms.ts';
import { spreadCircuits } from './component-spread.ts';

export type MeterKind = Probe['instrument']['kind'];

/**
 * What a probe shows on each machine of the spread: V, ohm or A; Infinity where an ohmmeter finds no connection; NaN where
 * the reading jumps (chatter) or the instrument is refused under this fault.
 */
export type ShownValues = readonly number[];

/** The readings of one circuit, computed when asked for and kept. Nothing in it depends on a model. */
export interface CircuitReadings {
  readonly circuit: Circuit;
  /** Values of the probe under the faults; null where the probe or a fault does not fit the circuit. */
  shown(probe: Probe, faults: readonly Fault[]): ShownValues | null;
}

/** Kept readings by circuit; hand the same one in again and nothing is computed twice. */
export type WiringCache = Map<CircuitId, CircuitReadings>;

/**
 * `together`: probes that are likely to be asked for under the same faults (the checks of the circuit); they share their
 * solved networks.
 */
export function circuitReadings(circuit: Circuit, together: readonly Probe[]): CircuitReadings {
  const machines = spreadCircuits(circuit);
  const known = new Map<string, Map<string, ShownValues | null>>();
  /** Probes that fit the circuit, by how the machine stands for them: those share their solved networks. */
  const usable = new Map<string, Map<string, Probe>>();
  let isSorted = false;

  const compute = (probes: readonly Probe[], faults: readonly Fault[]): ShownValues[] => {
    const checks = probes.map(tableCheck);
    const tables = machines.map((machine) => readingTable(machine, [faults], checks)[0] ?? []);
    return probes.map((probe, column) =>
      tables.map((row) => shownBy(probe.instrument.kind, row[column]?.reading ?? null)),
    );
  };
  /** Null instead of a problem: what does not fit is reported when the handbook is checked. */
  const attempt = (probes: readonly Probe[], faults: readonly Fault[]): ShownValues[] | null => {
    try {
      return compute(probes, faults);
    } catch (error) {
      if (error instanceof Problem) return null;
      throw error;
    }
  };

  /** Tried on the machine as drawn alone; whether a probe can be put somewhere does not depend on values. */
  const fits = (probe: Probe): boolean => {
    try {
      readingTable(circuit, [[]], [tableCheck(probe)]);
      return true;
    } catch (error) {
      if (error instanceof Problem) return false;
      throw error;
    }
  };

  return {
    circuit,
    shown(probe, faults) {
      if (!isSorted) {
        for (const one of together) {
          if (!fits(one)) continue;
          const stance = stanceKey(one);
          usable.set(stance, (usable.get(stance) ?? new Map<string, Probe>()).set(probeKey(one), one));
        }
        isSorted = true;
      }
      const faultKey = JSON.stringify(faults);
      const own = known.get(faultKey) ?? new Map<string, ShownValues | null>();
      known.set(faultKey, own);
      const key = probeKey(probe);
      const found = own.get(key);
      if (found !== undefined) return found;
      const alike = usable.get(stanceKey(probe));
      const asked = alike?.has(key) ? [...alike] : [[key, probe] as const];
      const values = attempt(
        asked.map(([, one]) => one),
        faults,
      );
      asked.forEach(([one], place) => {
        own.set(one, values?.[place] ?? null);
      });
      return own.get(key) ?? null;
    },
  };
}

function stanceKey({ controls, unplugged, removed }: Probe): string {
  return JSON.stringify([Object.entries(controls).sort(), [...unplugged].sort(), [...removed].sort()]);
}

export function probeKey(probe: Probe): string {
  const { instrument, controls, unplugged, removed } = probe;
  return JSON.stringify([
    instrument,
    Object.entries(controls).sort(),
    [...unplugged].sort(),
    [...removed].sort(),
  ]);
}

function tableCheck(probe: Probe): TableCheck {
  const { instrument, controls, unplugged, removed } = probe;
  return { instrument: instrument as Instrument, controls, unplugged, removed };
}

function shownBy(kind: MeterKind, reading: Reading | null): number {
  if (!reading) return Number.NaN;
  switch (kind) {
    case 'ohmmeter':
      return reading.open ? Number.POSITIVE_INFINITY : (reading.ohms ?? Number.NaN);
    case 'ammeter':
      return reading.amps ?? Number.NaN;
    default:
      return reading.volts ?? Number.NaN;
  }
}
