import { describe, expect, test } from 'vitest';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';
import { lineWith, only, smallWith } from './small-handbook.ts';

type Files = readonly { path: string; text: string }[];
const build = (files: Files) => {
  const read = readHandbook(files);
  const built = buildBook(read.entries, 'v1');
  return { ...built, findings: [...read.findings, ...built.findings] };
};
const textOf = (files: Files, path: string): string => files.find((file) => file.path === path)?.text ?? '';

const causes = 'systems/lighting/causes.yaml';
const checks = 'systems/lighting/checks.yaml';

describe('circuits', () => {
  const circuit = `id: horn-loop
title: Horn
ground: neg
controls:
  horn: {positions: [released, pressed], rest: released}
components:
  - {id: battery, kind: battery, positive: pos, negative: neg, emf_v: 12.6, resistance_ohm: 0.02}
  - {id: button, kind: switch, ends: [pos, feed], control: horn, closed_at: [pressed], resistance_ohm: 0.03}
  - {id: horn, kind: resistor, ends: [feed, neg], resistance_ohm: 4}
points:
  horn-feed: {node: feed, title: Feed, electronic: true}
`;
  const withCircuit = (text: string, cause = '', check = '') => {
    const a = smallWith(causes, ['shows_with: 0.7', `shows_with: 0.7${cause}`]);
    const b = smallWith(checks, ['spec: horn-resistance', `spec: horn-resistance${check}`]);
    const merged = a.map((file) =>
      file.path === checks ? (b.find((each) => each.path === checks) ?? file) : file,
    );
    return [...merged, { path: 'circuits/horn-loop.yaml', text }];
  };
  const wiring = (component: string, mode: string) =>
    `\n  wiring: {horn-loop: {faults: [{component: ${component}, mode: ${mode}}]}}`;
  const probe = (instrument: string, more = '') =>
    `\n  probes:\n    - circuit: horn-loop\n      instrument: ${instrument}\n      controls: {horn: pressed}${more}`;

  test('a sound one with faults and probes is taken', () => {
    const files = withCircuit(
      circuit,
      wiring('button', 'resistive'),
      probe('{kind: voltmeter, lead: neg, tip: horn-feed}'),
    );
    const { book, findings } = build(files);
    expect(findings).toEqual([]);
    expect(book.circuits.get('horn-loop')).toMatchObject({ title: 'Horn', ground: 'neg' });
  });

  const cases: [name: string, files: Files, code: string, file: string, words: string][] = [
    [
      'unknown kind',
      withCircuit(circuit.replace('kind: switch', 'kind: swich')),
      'bad-circuit',
      'circuits/horn-loop.yaml',
      'kind: swich',
    ],
    ['unknown component', withCircuit(circuit, wiring('buton', 'resistive')), 'bad-circuit', causes, 'buton'],
    [
      'impossible mode',
      withCircuit(circuit, wiring('button', 'discharged')),
      'bad-circuit',
      causes,
      'discharged',
    ],
    [
      'unknown point',
      withCircuit(circuit, '', probe('{kind: voltmeter, lead: neg, tip: horn-fed}')),
      'bad-probe',
      checks,
      'horn-fed',
    ],
    [
      'test lamp on electronics',
      withCircuit(circuit, '', probe('{kind: test-lamp, lead: neg, tip: horn-feed}')),
      'bad-probe',
      checks,
      'test-lamp',
    ],
    [
      'unknown position',
      withCircuit(circuit, '', probe('{kind: voltmeter, lead: neg, tip: feed}').replace('pressed', 'prest')),
      'bad-circuit',
      checks,
      'prest',
    ],
    [
      'unknown plug',
      withCircuit(
        circuit,
        '',
        probe('{kind: voltmeter, lead: neg, tip: feed}', '\n      unplugged: [no-plug]'),
      ),
      'bad-circuit',
      checks,
      'no-plug',
    ],
  ];
  test.each(cases)('%s', (_name, files, code, file, words) => {
    const finding = only(build(files).findings, code);
    expect(finding).toMatchObject({ severity: 'error', file });
    expect(finding.line).toBe(lineWith(textOf(files, file), words));
  });
});
