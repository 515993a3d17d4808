import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import {
  type Circuit,
  noticed,
  readCircuit,
  type SolveOptions,
  solveCircuit,
} from '../../../src/circuit/index.ts';

const folder = new URL('../../../seed/handbook/circuits/', import.meta.url);

export const shippedIds: readonly string[] = readdirSync(folder)
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => file.replace('.yaml', ''))
  .sort();

export function shipped(id: string): Circuit {
  return readCircuit(parse(readFileSync(new URL(`${id}.yaml`, folder), 'utf8')));
}

/** Volts, tip minus lead, as the voltmeter shows them. */
export function volts(
  circuit: Circuit,
  bench: SolveOptions,
  lead: string,
  tip: string,
  mode: 'dc' | 'ac' = 'dc',
): number {
  const { reading } = solveCircuit(circuit, { ...bench, instrument: { kind: 'voltmeter', mode, lead, tip } });
  return reading?.volts ?? Number.NaN;
}

/** What each component shows, by id. */
export function shows(circuit: Circuit, bench: SolveOptions): Record<string, string> {
  return Object.fromEntries(noticed(circuit, bench).signs.map(({ component, word }) => [component, word]));
}

/** Share of rated power, by id. */
export function shares(circuit: Circuit, bench: SolveOptions): Record<string, number> {
  return Object.fromEntries(
    noticed(circuit, bench).signs.map(({ component, fraction }) => [component, fraction]),
  );
}

/** Every combination of the positions of the controls. */
export function everyStand(circuit: Circuit): Record<string, string>[] {
  return Object.entries(circuit.controls).reduce<Record<string, string>[]>(
    (stands, [control, { positions }]) =>
      stands.flatMap((stand) => positions.map((position) => ({ ...stand, [control]: position }))),
    [{}],
  );
}
