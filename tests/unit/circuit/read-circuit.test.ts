import { describe, expect, it } from 'vitest';
import { MOST_COMPONENTS, readCircuit, solveCircuit } from '../../../src/circuit/index.ts';
import { Problem } from '../../../src/problem.ts';
import { hornCircuit } from './horn-circuit.ts';

type Draft = ReturnType<typeof hornCircuit>;

function problemOf(change: (draft: Draft) => unknown): Problem {
  const draft = hornCircuit();
  const changed = change(draft);
  try {
    readCircuit(changed ?? draft);
  } catch (error) {
    if (error instanceof Problem) return error;
    throw error;
  }
  throw new Error('The circuit was accepted.');
}

const component = (draft: Draft, id: string) => {
  const found = draft.components.find((c) => c.id === id);
  if (!found) throw new Error(id);
  return found;
};

const set = (id: string, field: string, value: unknown) => (draft: Draft) => {
  component(draft, id)[field] = value;
};

describe('readCircuit', () => {
  it('accepts the example, freezes it and leaves the value alone', () => {
    const draft = hornCircuit();
    const before = JSON.stringify(draft);
    const circuit = readCircuit(draft);
    expect(JSON.stringify(draft)).toBe(before);
    expect(Object.isFrozen(draft.components[0])).toBe(false);
    expect(Object.isFrozen(circuit.components[0])).toBe(true);
    expect(circuit.plugs['horn-plug']?.parts).toEqual(['w-horn']);
  });

  it('keeps what a drawing needs', () => {
    const draft = hornCircuit();
    Object.assign(component(draft, 'w-horn'), {
      color: 'GNBK',
      layout: { x: 3 },
      tolerance: 0.1,
      terminal: { 1: '87' },
    });
    const wire = readCircuit(draft).components.find((c) => c.id === 'w-horn');
    expect(wire).toMatchObject({ color: 'GNBK', layout: { x: 3 }, tolerance: 0.1, terminal: { 1: '87' } });
  });

  it('accepts absent and empty sections', () => {
    const circuit = readCircuit({
      ground: 'b',
      plugs: null,
      components: [{ id: 'r', kind: 'resistor', ends: ['a', 'b'], resistance_ohm: 1 }],
    });
    expect(circuit.controls).toEqual({});
    expect(solveCircuit(circuit).nodes).toEqual({ a: 0, b: 0 });
  });

  const refusals: [string, (draft: Draft) => unknown, string, string | undefined, RegExp][] = [
    ['not an object', () => 12, 'circuit', undefined, /object/],
    ['no components', (d) => ({ ...d, components: [] }), 'components', undefined, /at least one/],
    ['no ground', (d) => ({ ...d, ground: undefined }), 'ground', undefined, /ground/],
    ['a ground that nothing touches', (d) => ({ ...d, ground: 'earth' }), 'ground', 'earth', /“earth”/],
    ['an id used twice', set('strap', 'id', 'horn'), 'components[7].id', 'horn', /twice/],
    ['an unknown kind', set('horn', 'kind', 'trumpet'), 'components[6].kind', 'horn', /trumpet/],
    ['zero resistance', set('horn', 'resistance_ohm', 0), 'components[6].resistance_ohm', 'horn', /above 0/],
    [
      'negative resistance',
      set('fuse-1', 'resistance_ohm', -1),
      'components[1].resistance_ohm',
      'fuse-1',
      /above 0/,
    ],
    [
      'a resistance as text',
      set('horn', 'resistance_ohm', '4'),
      'components[6].resistance_ohm',
      'horn',
      /“4”/,
    ],
    [
      'infinite resistance',
      set('horn', 'resistance_ohm', Number.POSITIVE_INFINITY),
      'components[6].resistance_ohm',
      'horn',
      /ohm|Ω/,
    ],
    ['zero coil resistance', set('relay-1', 'coil_ohm', 0), 'components[3].coil_ohm', 'relay-1', /above 0/],
    [
      'a missing field',
      set('relay-1', 'pull_in_v', undefined),
      'components[3].pull_in_v',
      'relay-1',
      /pull_in_v/,
    ],
    ['missing ends', set('horn', 'ends', undefined), 'components[6].ends', 'horn', /two nodes/],
    ['one end only', set('horn', 'ends', ['frame']), 'components[6].ends', 'horn', /two nodes/],
    [
      'drop-out above pull-in',
      set('relay-1', 'drop_out_v', 9),
      'components[3].drop_out_v',
      'relay-1',
      /pull_in_v/,
    ],
    ['an unknown control', set('button', 'control', 'bell'), 'components[4].control', 'button', /“bell”/],
    [
      'a control named like an object method',
      set('button', 'control', 'toString'),
      'components[4].control',
      'button',
      /“toString”/,
    ],
    [
      'an unknown position',
      set('button', 'closed_at', ['held']),
      'components[4].closed_at',
      'button',
      /“held”/,
    ],
    [
      'a rest that is no position',
      (d) => {
        d.controls.key.rest = 'up';
      },
      'controls.key.rest',
      'key',
      /“up”/,
    ],
    [
      'a plug with an unknown part',
      (d) => {
        d.plugs['horn-plug'].parts.push('w-none');
      },
      'plugs.horn-plug.parts[1]',
      'horn-plug',
      /“w-none”/,
    ],
    [
      'a point on an unknown node',
      (d) => {
        d.points.p = { node: 'nowhere' };
      },
      'points.p.node',
      'p',
      /“nowhere”/,
    ],
    [
      'a point that borrows a node’s name',
      (d) => {
        d.points.ign = { node: 'fused' };
      },
      'points.ign',
      'ign',
      /rename/,
    ],
    [
      'a mark on an unknown node',
      (d) => ({ ...d, nodes: { ecu: { electronic: true } } }),
      'nodes.ecu',
      'ecu',
      /“ecu”/,
    ],
    [
      'a battery without resistance',
      set('battery', 'resistance_ohm', 0),
      'components[0].resistance_ohm',
      'battery',
      /above 0/,
    ],
  ];
  it.each(refusals)('refuses %s', (_what, change, field, id, words) => {
    const problem = problemOf(change);
    expect(problem.code).toBe('bad-circuit');
    expect(problem.where?.field).toBe(field);
    expect(problem.where?.id).toBe(id);
    expect(problem.message).toMatch(words);
  });

  it('names a loop of sources without resistance as such', () => {
    const problem = problemOf((d) => {
      component(d, 'battery').resistance_ohm = 0;
      d.components.push({
        id: 'jump',
        kind: 'battery',
        positive: 'bat-pos',
        negative: 'bat-neg',
        emf_v: 12,
        resistance_ohm: 0,
      });
    });
    expect(problem.where?.id).toBe('jump');
    expect(problem.message).toMatch(/loop of sources without resistance/);
  });

  it('solves a thousand components and refuses more than its limit', () => {
    const ladder = (rungs: number) => ({
      ground: 'n0',
      components: [
        { id: 'b', kind: 'battery', positive: 'n1', negative: 'n0', emf_v: 12, resistance_ohm: 0.01 },
        ...Array.from({ length: rungs }, (_, k) => ({
          id: `r${k}`,
          kind: 'resistor',
          ends: k % 2 ? [`n${(k + 1) / 2}`, 'n0'] : [`n${k / 2 + 1}`, `n${k / 2 + 2}`],
          resistance_ohm: 1 + (k % 7),
        })),
      ],
    });
    const { imbalance_a, nodes } = solveCircuit(readCircuit(ladder(1000)));
    expect(imbalance_a).toBeLessThan(1e-9);
    expect(Object.keys(nodes ?? {}).length).toBeGreaterThan(500);
    const tooLarge = problemOf(() => ladder(MOST_COMPONENTS));
    expect(tooLarge.code).toBe('too-large');
    expect(tooLarge.message).toContain('2000');
  });

  it('solves a thousand components that all cross each other', () => {
    const names = Array.from({ length: 45 }, (_, k) => `n${k}`);
    const components = names.flatMap((a, i) =>
      names.slice(i + 1).map((b, j) => ({
        id: `${a}-${b}`,
        kind: 'wire',
        ends: [a, b],
        resistance_ohm: 1 + ((i * 7 + j) % 5),
      })),
    );
    const circuit = readCircuit({
      ground: 'n0',
      components: [
        ...components,
        { id: 'b', kind: 'battery', positive: 'n44', negative: 'n0', emf_v: 12, resistance_ohm: 1 },
      ],
    });
    expect(solveCircuit(circuit).imbalance_a).toBeLessThan(1e-9);
  });
});
