import { Problem, quoted } from '../problem.ts';
import { type Assembly, componentAt, electronicMark, NO_COMPONENT, probeNode } from './assemble.ts';
import type { Branch } from './compile-circuit.ts';
import { conducts, islandAt, type Load, voltsAt } from './network.ts';
import type { OperatingPoint, PointFinder } from './operating-point.ts';
import { branchAmps, mean, rootMeanSquare } from './seen-values.ts';
import { lampWord } from './signs.ts';

/** Ends are points or nodes; volts are tip minus lead. */
export type Instrument =
  | { readonly kind: 'test-lamp'; readonly lead: string; readonly tip: string }
  | { readonly kind: 'voltmeter'; readonly lead: string; readonly tip: string; readonly mode?: 'dc' | 'ac' }
  | { readonly kind: 'ohmmeter'; readonly lead: string; readonly tip: string }
  | { readonly kind: 'diode-tester'; readonly lead: string; readonly tip: string }
  | {
      readonly kind: 'ammeter';
      readonly around: string;
      /** Which way through the component: coil of a relay; its contact, or the first of any other part, if absent. */
      readonly path?: string;
    };

/** JSON-safe: `ohms` is null, with `open` true, where the ohmmeter shows no connection. */
export interface Reading {
  readonly volts?: number | null;
  readonly ohms?: number | null;
  readonly amps?: number;
  readonly lamp?: 'bright' | 'dim' | 'dark';
  /** The ends are in parts of the circuit that nothing else connects. */
  readonly floating?: true;
  readonly open?: true;
}

/** Test lamp: 12 V, 3 W. */
export const TEST_LAMP_V = 12;
export const TEST_LAMP_OHM = 48;
export const VOLTMETER_OHM = 10e6;
/** Diode range of a hand meter: open-circuit volts and inner resistance (about 1 mA into a diode; common practice, no source). */
export const DIODE_TESTER_V = 2.5;
export const DIODE_TESTER_OHM = 1800;

interface Ends {
  readonly tip: number;
  readonly lead: number;
}

/** An instrument that has passed every refusal that does not depend on the state of the circuit. */
export type Connected =
  | {
      readonly kind: 'test-lamp' | 'voltmeter';
      readonly ends: Ends;
      readonly load: Load;
      readonly isAc: boolean;
    }
  | { readonly kind: 'ohmmeter' | 'diode-tester'; readonly ends: Ends; readonly instrument: Instrument }
  | { readonly kind: 'ammeter'; readonly branch: number };

const KINDS = ['test-lamp', 'voltmeter', 'ohmmeter', 'diode-tester', 'ammeter'];

/**
 * Connects an instrument. Throws Problem `bad-probe` for an unknown instrument, point or component, a probe on
 * a part that is taken out, a filament lamp on an electronic line.
 */
export function connect(assembly: Assembly, instrument: Instrument): Connected {
  if (!KINDS.includes(instrument.kind)) {
    throw new Problem(
      'bad-probe',
      `There is no instrument ${quoted((instrument as { kind: unknown }).kind)}; there are ${KINDS.join(', ')}.`,
      { field: 'instrument.kind' },
    );
  }
  if (instrument.kind === 'ammeter') return connectAmmeter(assembly, instrument.around, instrument.path);
  const ends = {
    tip: presentNode(assembly, instrument.tip, 'instrument.tip'),
    lead: presentNode(assembly, instrument.lead, 'instrument.lead'),
  };
  switch (instrument.kind) {
    case 'voltmeter': {
      const mode = instrument.mode ?? 'dc';
      if (mode !== 'dc' && mode !== 'ac') {
        throw new Problem('bad-probe', `A voltmeter has no mode ${quoted(mode)}; it has dc and ac.`, {
          field: 'instrument.mode',
        });
      }
      const load = { ...ends, ohm: VOLTMETER_OHM, emf_v: 0 };
      return { kind: 'voltmeter', ends, load, isAc: mode === 'ac' };
    }
    case 'test-lamp': {
      refuseLampOnElectronics(assembly, instrument.tip, ends.tip, 'instrument.tip');
      refuseLampOnElectronics(assembly, instrument.lead, ends.lead, 'instrument.lead');
      return { kind: 'test-lamp', ends, load: { ...ends, ohm: TEST_LAMP_OHM, emf_v: 0 }, isAc: false };
    }
    default:
      return { kind: instrument.kind, ends, instrument };
  }
}

function refuseLampOnElectronics(assembly: Assembly, name: string, node: number, field: string): void {
  const mark = electronicMark(assembly.compiled, node);
  if (mark === undefined) return;
  throw new Problem(
    'bad-probe',
    `No filament test lamp at ${quoted(name)}: ${quoted(mark)} is an electronic line, and the lamp draws a quarter of an ampere. Use a voltmeter.`,
    { field, id: mark },
  );
}

function connectAmmeter(assembly: Assembly, around: string, path: string | undefined): Connected {
  const { compiled } = assembly;
  const index = compiled.componentIndex.get(around);
  if (index === undefined) {
    throw new Problem('bad-probe', `There is no component ${quoted(around)} to put an ammeter around.`, {
      field: 'instrument.around',
      id: around,
    });
  }
  if (assembly.removed.has(index) || assembly.unplugged.has(index)) {
    const how = assembly.removed.has(index) ? 'taken out' : 'unplugged';
    throw new Problem('bad-probe', `No current to read in ${quoted(around)}: it is ${how}.`, {
      field: 'instrument.around',
      id: around,
    });
  }
  const own = compiled.atRest[index]?.branches ?? [];
  const k = path === undefined ? 0 : own.findIndex((branch) => branch.path === path);
  if (k < 0) {
    throw new Problem(
      'bad-probe',
      `Component ${quoted(around)} has no way ${quoted(path)}; it has ${own.map((b) => b.path).join(', ')}.`,
      { field: 'instrument.path', id: around },
    );
  }
  return { kind: 'ammeter', branch: (compiled.branchStart[index] as number) + k };
}

/** A probe needs something to touch: a node all of whose parts are taken out is not there. */
function presentNode(assembly: Assembly, name: string, field: string): number {
  const { compiled, removed, unplugged } = assembly;
  const node = probeNode(compiled, name, field);
  if (removed.size === 0) return node;
  let takenOut: string | undefined;
  for (const [index, component] of compiled.circuit.components.entries()) {
    const touches = compiled.kinds[index]
      ?.terminals(component)
      .some((terminal) => compiled.nodeIndex.get(terminal.node) === node);
    if (!touches) continue;
    if (removed.has(index)) takenOut ??= component.id;
    else if (!unplugged.has(index)) return node;
  }
  if (takenOut === undefined) return node;
  throw new Problem(
    'bad-probe',
    `The probe at ${quoted(name)} has nothing to touch: ${quoted(takenOut)} is taken out.`,
    { field, id: takenOut },
  );
}

/** The load to solve with, if the instrument is one whatever it finds. */
export function loadOf(connected: Connected): Load | null {
  return connected.kind === 'voltmeter' || connected.kind === 'test-lamp' ? connected.load : null;
}

/**
 * What the instrument shows; null with chatter. Throws Problem `bad-probe` for an ohmmeter (or diode tester) on a
 * live island, naming the source.
 */
export function readInstrument(finder: PointFinder, connected: Connected): Reading | null {
  if (connected.kind === 'voltmeter' || connected.kind === 'test-lamp') {
    const across = finder.voltsAcross(connected.load);
    if (!across) return null;
    const { volts: values, loadFloats } = across;
    const floating = loadFloats ? { floating: true as const } : {};
    if (connected.kind === 'test-lamp') {
      const volts = values.length === 1 ? (values[0] as number) : rootMeanSquare(values);
      return { volts, lamp: lampWord(volts, TEST_LAMP_V), ...floating };
    }
    const dc = mean(values);
    return { volts: connected.isAc ? rootMeanSquare(values.map((v) => v - dc)) : dc, ...floating };
  }
  const point = finder.find(null);
  if (point.chatter) return null;
  switch (connected.kind) {
    case 'ammeter':
      return { amps: mean(branchAmps(point, finder.assembly.branches[connected.branch] as Branch)) };
    case 'ohmmeter':
      return readOhms(finder, point, connected.ends, connected.instrument);
    case 'diode-tester':
      return readDiode(finder, point, connected.ends, connected.instrument);
  }
}

/** The ohmmeter's test voltage is too small to turn on a diode or to pull in a relay: contacts and valves stay as they are. */
function readOhms(
  finder: PointFinder,
  point: OperatingPoint,
  { tip, lead }: Ends,
  instrument: Instrument,
): Reading {
  refuseLiveIslands(finder.assembly, point, { tip, lead }, instrument);
  const { island } = point.state.points[0] as { island: readonly number[] };
  if (islandAt(island, tip) !== islandAt(island, lead)) return { ohms: null, open: true };
  return { ohms: Math.max(0, finder.ohmsBetween(point, tip, lead)) };
}

/** Test volts behind a resistance, red lead on tip: a diode from tip to lead shows its drop, anything above 80 % of the test volts is open. */
function readDiode(finder: PointFinder, point: OperatingPoint, ends: Ends, instrument: Instrument): Reading {
  refuseLiveIslands(finder.assembly, point, ends, instrument);
  const tested = finder.find({ ...ends, ohm: DIODE_TESTER_OHM, emf_v: DIODE_TESTER_V });
  const at = tested.state.points[0] as { volts: readonly number[] };
  const volts = voltsAt(at.volts, ends.tip) - voltsAt(at.volts, ends.lead);
  return volts > 0.8 * DIODE_TESTER_V ? { volts: null, open: true } : { volts };
}

function refuseLiveIslands(
  assembly: Assembly,
  point: OperatingPoint,
  ends: Ends,
  instrument: Instrument,
): void {
  for (const { valves, island } of point.state.points) {
    const [tip, lead] = [islandAt(island, ends.tip), islandAt(island, ends.lead)];
    for (const branch of assembly.branches) {
      if (!branch.isSource || branch.component === NO_COMPONENT) continue;
      if (!conducts(branch, point.state.bits, valves)) continue;
      const own = islandAt(island, branch.from);
      if (own !== tip && own !== lead) continue;
      const { id } = componentAt(assembly, branch.component);
      const at = own === tip ? 'tip' : 'lead';
      const name = (instrument as { tip: string; lead: string })[at];
      throw new Problem(
        'bad-probe',
        `No ${instrument.kind} at ${quoted(name)}: it is connected to the source ${quoted(id)}. Switch off, unplug, or take the battery lead off first.`,
        { field: `instrument.${at}`, id },
      );
    }
  }
}
