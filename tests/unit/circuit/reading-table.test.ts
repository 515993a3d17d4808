import { describe, expect, it } from 'vitest';
import {
  type Fault,
  listFaults,
  readCircuit,
  readingTable,
  solveCircuit,
  type TableCheck,
} from '../../../src/circuit/index.ts';
import { Problem } from '../../../src/problem.ts';
import { dice, randomCircuit, randomSituation } from '../../reference/circuit-random.ts';
import { HORN_ON, hornCircuit } from './horn-circuit.ts';

const SEED = 77;

describe('readingTable', () => {
  it(`has in every cell what solveCircuit reads (seed ${SEED})`, () => {
    const roll = dice(SEED);
    let cells = 0;
    for (let round = 0; round < 40; round++) {
      const circuit = randomCircuit(roll, { relays: true, diodes: round % 2 === 0 });
      const checks = Array.from({ length: 6 }, () => {
        const { faults: _, ...bench } = randomSituation(roll, circuit);
        return bench as TableCheck;
      }).filter((check) => accepts(circuit, check));
      const faults: Fault[][] = [[], ...listFaults(circuit).map((fault) => [fault])];
      const table = readingTable(circuit, faults, checks);
      for (const [row, own] of faults.entries()) {
        for (const [column, check] of checks.entries()) {
          const cell = table[row]?.[column];
          try {
            const { reading, chatter } = solveCircuit(circuit, { ...check, faults: own });
            expect(cell).toEqual({ reading, chatter });
          } catch (error) {
            if (!(error instanceof Problem)) throw error;
            expect(cell?.refused).toEqual(error.report());
            expect(cell?.reading).toBeNull();
          }
          cells++;
        }
      }
    }
    expect(cells).toBeGreaterThan(2000);
  });

  it('tells a blown fuse from an open wire by one voltmeter', () => {
    const circuit = readCircuit(hornCircuit());
    const check: TableCheck = {
      controls: HORN_ON,
      instrument: { kind: 'voltmeter', tip: 'fused', lead: 'bat-neg' },
    };
    const [healthy, blown, open] = readingTable(
      circuit,
      [[], [{ component: 'fuse-1', mode: 'blown' }], [{ component: 'w-horn', mode: 'open' }]],
      [check],
    );
    expect(healthy?.[0]?.reading?.volts).toBeGreaterThan(12);
    expect(blown?.[0]?.reading?.volts).toBeLessThan(0.1);
    expect(open?.[0]?.reading?.volts).toBeGreaterThan(12.6);
  });

  it('refuses what is wrong under every fault at once', () => {
    const circuit = readCircuit(hornCircuit());
    const check: TableCheck = { instrument: { kind: 'voltmeter', tip: 'moon', lead: 'frame' } };
    expect(() => readingTable(circuit, [[]], [check])).toThrow(/moon/);
  });
});

function accepts(circuit: ReturnType<typeof readCircuit>, check: TableCheck): boolean {
  try {
    readingTable(circuit, [], [check]);
    return true;
  } catch (error) {
    if (error instanceof Problem) return false;
    throw error;
  }
}
