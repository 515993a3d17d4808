/** What must hold for every circuit of the shipped handbook, in every position of its controls. */
import { readFileSync } from 'node:fs';
import { parse as parseCsv } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { listFaults, noticed, solveCircuit, terminalsOf } from '../../../src/circuit/index.ts';
import { everyStand, shipped, shippedIds, shows } from './shipped-circuits.ts';

const table = (name: string): Record<string, string>[] =>
  parseCsv(readFileSync(new URL(`../../reference/data/${name}`, import.meta.url), 'utf8'), { columns: true });

// IEC 60757, letter codes; two letters side by side are a second color.
const letters = new Set(table('wire-colors-iec60757.csv').map(({ code }) => code));
// DIN 72552; rows such as "L, R" and "U, V, W" name several.
const terminals = new Set(
  table('terminals-din72552.csv').flatMap(({ terminal }) =>
    (terminal ?? '').split(',').map((each) => each.trim()),
  ),
);

/** Parts that carry no current in the network, so that only an ohmmeter tells: the strap of an engine whose windings are not
 * grounded, and the ignition coil, whose pulses are not part of the network. */
const quiet: Record<string, readonly string[]> = {
  'charge-three-phase': ['engine-strap'],
  'ignition-cdi': ['coil-wire', 'ignition-coil', 'coil-ground-wire'],
};

it('there are the twelve circuits the models name', () => {
  expect(shippedIds).toEqual([
    'charge-half-wave',
    'charge-three-phase',
    'fuel-pump',
    'horn',
    'ignition-cdi',
    'lamps-common-ground',
    'lighting-ac',
    'radiator-fan',
    'start-control-unit',
    'start-ground-button',
    'start-supply-button',
    'turn-signals',
  ]);
});

describe.each(shippedIds)('%s', (id) => {
  const circuit = shipped(id);

  it('carries its own id, a titled control, and a place for every point', () => {
    expect(circuit.id).toBe(id);
    for (const control of Object.values(circuit.controls)) expect(control.title).toBeTruthy();
    for (const point of Object.values(circuit.points)) expect(point.where).toBeTruthy();
  });

  it('names wires by the letters of IEC 60757 and terminals by DIN 72552', () => {
    for (const component of circuit.components) {
      const code = component.color ?? '';
      const parts =
        code === ''
          ? []
          : code.length === 4 && !letters.has(code)
            ? [code.slice(0, 2), code.slice(2)]
            : [code];
      for (const part of parts) expect(letters, `${component.id} ${code}`).toContain(part);
      const marks =
        component.terminal === undefined
          ? []
          : Object.values(typeof component.terminal === 'string' ? [component.terminal] : component.terminal);
      for (const mark of marks) expect(terminals, `${component.id} ${mark}`).toContain(String(mark));
    }
  });

  it('marks every pin of a control or discharge unit as electronic', () => {
    const pins = new Set(
      circuit.components
        .filter(({ kind }) => kind === 'control-unit' || kind === 'discharge-ignition')
        .flatMap((unit) => terminalsOf(unit).map(({ node }) => node)),
    );
    for (const [name, point] of Object.entries(circuit.points)) {
      if (pins.has(point.node)) expect(point.electronic, name).toBe(true);
    }
  });

  it('healthy: no overload, no chatter, every sum of currents 0, in every position', () => {
    for (const controls of everyStand(circuit)) {
      const solved = solveCircuit(circuit, { controls });
      expect(solved.chatter, JSON.stringify(controls)).toBe(false);
      expect(solved.overloads, JSON.stringify(controls)).toEqual([]);
      expect(solved.imbalance_a).toBeLessThan(1e-6);
    }
  });

  it('healthy: no lamp above 1.5 times its rated power', () => {
    // 14.5 V on a 12 V lamp of fixed resistance is 1.46 times its power.
    for (const controls of everyStand(circuit)) {
      for (const sign of noticed(circuit, { controls }).signs) {
        if (sign.sign === 'lamp')
          expect(sign.fraction, `${sign.component} ${JSON.stringify(controls)}`).toBeLessThan(1.5);
      }
    }
  });

  it('every single fault is solved, and every fault shows somewhere', () => {
    const stands = everyStand(circuit);
    const all = (bench: Parameters<typeof solveCircuit>[1]) =>
      JSON.stringify([solveCircuit(circuit, bench).nodes, shows(circuit, bench ?? {})]);
    const healthy = stands.map((controls) => all({ controls }));
    for (const { component, mode, value } of listFaults(circuit)) {
      if (quiet[id]?.includes(component)) continue;
      const faults = [{ component, mode, ...(value === undefined ? {} : { value }) }];
      const isSeen = stands.some((controls, k) => all({ controls, faults }) !== healthy[k]);
      expect(isSeen, `${component} ${mode}`).toBe(true);
    }
  });

  it('parting any plug leaves something to solve', () => {
    for (const plug of Object.keys(circuit.plugs)) {
      expect(() => solveCircuit(circuit, { unplugged: [plug] }), plug).not.toThrow();
    }
  });
});
