/**
 * Circuits with printed answers. Source: data/dc-circuits.json, which names the book and section of each (mostly
 * OpenStax, University Physics Volume 2, chapter 10). An ideal source is written here as a battery of 1 nΩ.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readCircuit, solveCircuit } from '../../src/circuit/index.ts';

interface Element {
  id: string;
  type: 'V' | 'R';
  plus: string;
  minus: string;
  value: number;
}
interface Published {
  id: string;
  title: string;
  source: string;
  ground: string;
  elements: Element[];
  expected: {
    I?: Record<string, number>;
    absI?: Record<string, number>;
    V?: Record<string, number>;
    P?: Record<string, number>;
    I_source?: Record<string, number>;
    P_source?: number;
    P_source_total?: number;
    P_total?: number;
    P_sink_V1?: number;
  };
  rel_tol: number;
}

const { circuits } = JSON.parse(
  readFileSync(new URL('./data/dc-circuits.json', import.meta.url), 'utf8'),
) as { circuits: Published[] };

const NANO_OHM = 1e-9;

function asComponent({ id, type, plus, minus, value }: Element) {
  if (type === 'R') return { id, kind: 'resistor', ends: [plus, minus], resistance_ohm: value };
  if (value === 0) return { id, kind: 'wire', ends: [plus, minus], resistance_ohm: NANO_OHM };
  return { id, kind: 'battery', positive: plus, negative: minus, emf_v: value, resistance_ohm: NANO_OHM };
}

describe('published circuits', () => {
  it('are all here', () => expect(circuits.length).toBe(25));

  it.each(circuits)('$id: $title ($source)', (published) => {
    const { elements, expected, rel_tol } = published;
    const circuit = readCircuit({
      id: published.id,
      ground: published.ground,
      components: elements.map(asComponent),
    });
    const { nodes, currents, imbalance_a, chatter } = solveCircuit(circuit);
    expect(chatter).toBe(false);
    expect(imbalance_a).toBeLessThan(1e-3); // 1 nΩ turns a rounding error of 1e-15 V into 1e-6 A
    const amps = (id: string) => currents?.[id]?.body ?? Number.NaN;
    const volts = (id: string) => {
      const element = elements.find((other) => other.id === id);
      return (nodes?.[element?.plus ?? ''] ?? Number.NaN) - (nodes?.[element?.minus ?? ''] ?? Number.NaN);
    };
    // A current through a source of 1 nΩ loses its digits in the subtraction; resistors' do not.
    const close = (got: number, wanted: number) =>
      expect(Math.abs(got - wanted)).toBeLessThanOrEqual(rel_tol * Math.abs(wanted) + 1e-12);
    const sourcePower = (id: string) => -volts(id) * amps(id);
    const sources = elements.filter(({ type }) => type === 'V');
    const resistors = elements.filter(({ type }) => type === 'R');
    let checked = 0;
    const each = (wanted: Record<string, number> | undefined, got: (id: string) => number) => {
      for (const [id, value] of Object.entries(wanted ?? {})) {
        close(got(id), value);
        checked++;
      }
    };
    each(expected.I, amps);
    each(expected.absI, (id) => Math.abs(amps(id)));
    each(expected.V, volts);
    each(expected.P, (id) => volts(id) * amps(id));
    each(expected.I_source, (id) => -amps(id));
    const delivered = sources.reduce((sum, { id }) => sum + sourcePower(id), 0);
    const used = resistors.reduce((sum, { id }) => sum + volts(id) * amps(id), 0);
    const totals: [number | undefined, number][] = [
      [expected.P_source, delivered],
      [expected.P_source_total, delivered],
      [expected.P_total, used],
      [expected.P_sink_V1, -sourcePower('V1')],
    ];
    for (const [wanted, got] of totals) {
      if (wanted === undefined) continue;
      close(got, wanted);
      checked++;
    }
    expect(checked).toBeGreaterThan(0);
  });
});
