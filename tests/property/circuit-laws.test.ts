/** Laws every solved network keeps, whatever the circuit: charge conservation, reciprocity, superposition. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Circuit,
  type Component,
  type Instrument,
  readCircuit,
  solveCircuit,
} from '../../src/circuit/index.ts';
import { Problem } from '../../src/problem.ts';
import { dice, randomCircuit, randomSituation } from '../reference/circuit-random.ts';

const SEED = Number(process.env.CIRCUIT_SEED ?? 4711);
const seeds = fc.integer({ min: 1, max: 2 ** 31 });
const runs = { seed: SEED, numRuns: 150 };
console.log(`circuit laws: seed ${SEED}`);

const rebuild = (circuit: Circuit, components: readonly Component[]) =>
  readCircuit({ ...structuredClone(circuit), plugs: {}, components: structuredClone(components) });
const ends = (c: Component): Record<string, [string, string]> =>
  c.kind === 'relay'
    ? {
        coil: c.coil as [string, string],
        contact: c.contact as [string, string],
        'rest-contact': c.rest_contact as [string, string],
      }
    : { body: (c.ends ?? [c.positive, c.negative]) as [string, string] };

describe('laws of the solved network', () => {
  it('charge is conserved at every node, counted from the reported currents', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const roll = dice(seed);
        const circuit = randomCircuit(roll, { relays: true, diodes: true });
        const { instrument: _, bridge: __, faults: ___, ...situation } = randomSituation(roll, circuit);
        const { currents, imbalance_a, nodes } = solveCircuit(circuit, situation);
        const left = new Map<string, number>();
        let greatest = 0;
        for (const component of circuit.components) {
          for (const [path, amps] of Object.entries(currents?.[component.id] ?? {})) {
            const [a, b] = ends(component)[path] as [string, string];
            left.set(a, (left.get(a) ?? 0) + amps);
            left.set(b, (left.get(b) ?? 0) - amps);
            greatest = Math.max(greatest, Math.abs(amps));
          }
        }
        for (const [node, amps] of left)
          expect(Math.abs(amps), node).toBeLessThanOrEqual(1e-9 * (1 + greatest));
        if (nodes) expect(imbalance_a).toBeLessThanOrEqual(1e-9 * (1 + greatest));
      }),
      runs,
    );
  });

  it('reciprocity: the ohms between two points do not depend on which lead is where, nor does a transfer resistance', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const roll = dice(seed);
        const circuit = randomCircuit(roll, { relays: false, diodes: false });
        const passive = rebuild(
          circuit,
          circuit.components.filter(({ kind }) => kind !== 'battery').concat(anchor(circuit)),
        );
        const nodes = Object.keys(solveCircuit(passive).nodes ?? {});
        const pick = () => nodes[Math.floor(roll() * nodes.length)] as string;
        const [a, b, c, d] = [pick(), pick(), pick(), pick()];
        const ohms = (tip: string, lead: string) => {
          const instrument: Instrument = { kind: 'ohmmeter', tip, lead };
          return solveCircuit(passive, { instrument }).reading?.ohms ?? null;
        };
        expect(ohms(a, b)).toEqual(closeTo(ohms(b, a)));
        // A source of 10 V behind 7 Ω at a-b, its current read as the volts on 3 Ω at c-d, and the other way round.
        if (a === b || c === d) return;
        const transfer = (from: [string, string], to: [string, string]) => {
          const driven = rebuild(
            passive,
            passive.components.concat([
              { id: 'driver', kind: 'battery', ends: from, emf_v: 10, resistance_ohm: 7 },
              { id: 'listener', kind: 'resistor', ends: to, resistance_ohm: 7 },
            ]),
          );
          return solveCircuit(driven).currents?.listener?.body ?? Number.NaN;
        };
        const [there, back] = [transfer([a, b], [c, d]), transfer([c, d], [a, b])];
        expect(Math.abs(Math.abs(there) - Math.abs(back))).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(there)));
      }),
      runs,
    );
  });

  it('superposition: with contacts frozen, the volts of all sources are the sum of those of each', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const roll = dice(seed);
        const drawn = randomCircuit(roll, { relays: false, diodes: false });
        const nodes = Object.keys(solveCircuit(drawn).nodes ?? {});
        const pick = () => nodes[Math.floor(roll() * nodes.length)] as string;
        const tie = nodes.map((node, k) => ({
          id: `tie-${k}`,
          kind: 'resistor',
          ends: [node, drawn.ground],
          resistance_ohm: 1e5,
        }));
        const extra = [1, 2].map((k) => ({
          id: `extra-${k}`,
          kind: 'battery',
          ends: [pick(), pick()],
          emf_v: 1 + 10 * roll(),
          resistance_ohm: 0.1 + roll(),
        }));
        const all = drawn.components.concat(
          extra,
          tie.filter(({ ends: [node] }) => node !== drawn.ground),
        );
        const sources = all.filter(({ kind }) => kind === 'battery');
        const solved = (live: readonly string[]) =>
          solveCircuit(
            rebuild(
              drawn,
              all.map((c) =>
                c.kind !== 'battery' || live.includes(c.id)
                  ? c
                  : { id: c.id, kind: 'resistor', ends: ends(c).body, resistance_ohm: c.resistance_ohm },
              ),
            ),
          ).nodes ?? {};
        const together = solved(sources.map(({ id }) => id));
        const apart = sources.map(({ id }) => solved([id]));
        for (const node of nodes) {
          const sum = apart.reduce((total, one) => total + (one[node] ?? Number.NaN), 0);
          expect(Math.abs((together[node] ?? Number.NaN) - sum)).toBeLessThanOrEqual(1e-8);
        }
      }),
      runs,
    );
  });

  it('the inputs are not changed, and the same question has the same answer', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const roll = dice(seed);
        const circuit = randomCircuit(roll, { relays: true, diodes: true });
        const situation = randomSituation(roll, circuit);
        const before = JSON.stringify([circuit, situation]);
        const answer = () => {
          try {
            return JSON.stringify(solveCircuit(circuit, situation));
          } catch (error) {
            if (error instanceof Problem) return error.message;
            throw error;
          }
        };
        const first = answer();
        expect(answer()).toBe(first);
        const copy = readCircuit(JSON.parse(JSON.stringify(circuit)));
        expect(JSON.stringify(trySolve(copy, situation))).toBe(JSON.stringify(trySolve(circuit, situation)));
        expect(JSON.stringify([circuit, situation])).toBe(before);
      }),
      runs,
    );
  });

  it('the order in which components are written does not matter', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const roll = dice(seed);
        const circuit = randomCircuit(roll, { relays: true, diodes: true });
        const { instrument: _, unplugged: __, ...situation } = randomSituation(roll, circuit);
        const turned = rebuild(circuit, [...circuit.components].reverse());
        const [one, other] = [solveCircuit(circuit, situation), solveCircuit(turned, situation)];
        expect(other.chatter).toBe(one.chatter);
        for (const [node, volts] of Object.entries(one.nodes ?? {})) {
          const theirs = other.nodes?.[node];
          if (volts === null) expect(theirs).toBeNull();
          else expect(Math.abs((theirs ?? Number.NaN) - volts)).toBeLessThanOrEqual(1e-8);
        }
      }),
      runs,
    );
  });
});

function trySolve(circuit: Circuit, situation: Parameters<typeof solveCircuit>[1]) {
  try {
    return solveCircuit(circuit, situation);
  } catch (error) {
    if (error instanceof Problem) return error.report();
    throw error;
  }
}

/** Keeps the ground a node of the circuit when its batteries are taken away. */
function anchor(circuit: Circuit): Component[] {
  return [{ id: 'anchor', kind: 'resistor', ends: [circuit.ground, 'node-0-anchor'], resistance_ohm: 1 }];
}

function closeTo(value: number | null) {
  return value === null ? null : expect.closeTo(value, 6);
}
