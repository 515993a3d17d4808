import { expect, test } from 'vitest';
import type { CheckView } from '../../../src/api/contract.ts';
import { type ListedCircuit, likeliestCircuit } from '../../../src/renderer/wiring/choose-circuit.ts';

// The rule is the program's own design; there is no outside source for it.

const circuit = (circuitId: string, causes: string[], controls: string[] = []): ListedCircuit => ({
  circuitId,
  title: circuitId,
  controls: Object.fromEntries(controls.map((id) => [id, { positions: ['off', 'on'], rest: 'off' }])),
  plugs: {},
  points: {},
  faults: [],
  causes,
});
const circuits = [
  circuit('start', ['relay-coil-open', 'brake-switch-open'], ['key']),
  circuit('lamps', ['brake-switch-open', 'bulb-open'], ['key', 'brake']),
];
const check = (fields: Partial<CheckView>): CheckView =>
  ({ probe: null, controls: {}, ...fields }) as CheckView;

test('a probed check shows the circuit it probes, whoever is suspected', () => {
  const probe = { circuitId: 'lamps', controls: {} } as CheckView['probe'];
  expect(likeliestCircuit(circuits, check({ probe }), ['relay-coil-open'])?.circuitId).toBe('lamps');
});

test('without a probe the first suspect that is a wiring fault decides', () => {
  expect(likeliestCircuit(circuits, check({}), ['belt-worn', 'bulb-open'])?.circuitId).toBe('lamps');
  expect(likeliestCircuit(circuits, null, ['relay-coil-open'])?.circuitId).toBe('start');
});

test('of two circuits with the suspect, the one with the controls of the check', () => {
  const held = check({ controls: { key: 'on', brake: 'on' } });
  expect(likeliestCircuit(circuits, held, ['brake-switch-open'])?.circuitId).toBe('lamps');
});

test('no circuit where no likely suspect lies in the wiring', () => {
  const mechanical = ['belt-worn', 'rollers-worn', 'clutch-worn', 'bulb-open'];
  expect(likeliestCircuit(circuits, check({ controls: { key: 'on' } }), mechanical)).toBeNull();
  expect(likeliestCircuit(circuits, null, [])).toBeNull();
});
