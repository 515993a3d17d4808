import { type Circuit, type Fault, type NoticedSign, noticed } from '../../circuit/index.ts';
import type { SymptomId } from '../../terms.ts';
import { batterySymptoms } from './battery-symptoms.ts';
import { severitiesOfFaults } from './severities.ts';

/** A symptom that the wiring shows under a fault. */
export interface NoticedSymptom {
  readonly symptomId: SymptomId;
  /** Part of the fault's sizes at which it shows, 0 to 1. */
  readonly share: number;
  /** What is seen, in words. */
  readonly signs: string;
}

/** What a rider does, as positions of the controls a circuit may have; names and positions are matched by these words. */
interface Action {
  readonly name: 'key on' | 'start' | 'brake' | 'horn' | 'lights' | 'turn' | 'crank' | 'hot';
  readonly holds: readonly { readonly control: RegExp; readonly position: RegExp }[];
}

const ready = [
  { control: /^key/, position: /^on$/ },
  { control: /stop-switch|kill/, position: /^run$|^on$/ },
  { control: /stand/, position: /^up$/ },
];
const brakeHeld = { control: /^(front-)?brake/, position: /^(held|pulled|on)$/ };
/** With the lights on, a dead brake lamp alone is not taken for a machine without power. */
const lightsOn = { control: /^light/, position: /^on$/ };
const idling = { control: /^engine/, position: /^(idling|running)$/ };
/** The last hold of an action is what it is about: a circuit without that control is not asked. */
const actions: readonly Action[] = [
  { name: 'key on', holds: ready },
  { name: 'start', holds: [...ready, lightsOn, brakeHeld, { control: /^start/, position: /^pressed$/ }] },
  { name: 'brake', holds: [...ready, brakeHeld] },
  { name: 'horn', holds: [...ready, { control: /^horn/, position: /^pressed$/ }] },
  { name: 'lights', holds: [...ready, idling, { control: /^light/, position: /^(on|low|position)$/ }] },
  { name: 'turn', holds: [...ready, { control: /^(turn|signal|indicator)/, position: /^(left|on)$/ }] },
  { name: 'crank', holds: [...ready, { control: /^engine/, position: /^cranking$/ }] },
  { name: 'hot', holds: [...ready, { control: /coolant|temperature/, position: /^hot$/ }] },
];

/** A sign of a component, seen during an action, that is not what the healthy machine shows there. */
interface Rule {
  readonly symptomId: string;
  readonly during: Action['name'];
  readonly role: RegExp;
  readonly words: readonly NoticedSign['word'][];
}

const rules: readonly Rule[] = [
  { symptomId: 'start-slow', during: 'start', role: /^starter$/, words: ['slow'] },
  { symptomId: 'start-runs-on', during: 'key on', role: /^starter$/, words: ['runs-on'] },
  // Where the coil is fed through the brake switch, a stuck button runs the starter as soon as the lever is held.
  { symptomId: 'start-runs-on', during: 'brake', role: /^starter$/, words: ['runs-on'] },
  { symptomId: 'horn-dead', during: 'horn', role: /^horn$/, words: ['silent', 'weak', 'none'] },
  { symptomId: 'brake-lamp-out', during: 'brake', role: /^brake-lamp/, words: ['dark', 'dim'] },
  { symptomId: 'brake-lamp-stuck', during: 'key on', role: /^brake-lamp/, words: ['bright', 'dim'] },
  { symptomId: 'tail-lamp-out', during: 'lights', role: /^(tail|position)-lamp/, words: ['dark', 'dim'] },
  { symptomId: 'headlamp-out', during: 'lights', role: /^headlamp/, words: ['dark', 'dim'] },
  {
    symptomId: 'indicators-dead',
    during: 'turn',
    role: /^(turn|indicator|flasher)/,
    words: ['dark', 'dim', 'stays-dark', 'stays-lit'],
  },
  {
    symptomId: 'indicators-fast',
    during: 'turn',
    role: /^(turn|indicator|flasher)/,
    words: ['flashes-fast'],
  },
  { symptomId: 'dash-dead', during: 'key on', role: /^(instruments|dash)/, words: ['dead', 'dark', 'none'] },
  { symptomId: 'no-spark', during: 'crank', role: /^ignition/, words: ['no-spark', 'dead'] },
  {
    symptomId: 'crank-no-start',
    during: 'crank',
    role: /^(ignition|fuel-pump|engine-control)/,
    words: ['no-spark', 'dead', 'still', 'none'],
  },
  { symptomId: 'fan-dead', during: 'hot', role: /^fan/, words: ['still', 'slow', 'none', 'dead'] },
];

/**
 * What the rider would notice under a fault, hence which symptoms it explains and at which part of its sizes: the
 * signs of the solved circuit during what a rider does (key on, start, brake, horn, lights, turn signal, cranking, a hot
 * engine) and what the battery gets and gives, compared with the healthy machine. Only symptoms that this circuit can show. Throws `bad-circuit` for a fault the circuit cannot have.
 */
export function noticedSymptoms(circuit: Circuit, faults: readonly Fault[]): NoticedSymptom[] {
  const shares = new Map<string, { share: number; signs: string }>();
  for (const severity of severitiesOfFaults(circuit, faults)) {
    for (const [symptomId, signs] of symptomsAt(circuit, severity.faults)) {
      const before = shares.get(symptomId);
      shares.set(symptomId, { share: (before?.share ?? 0) + severity.weight, signs: before?.signs ?? signs });
    }
  }
  return [...shares]
    .map(([symptomId, { share, signs }]) => ({
      symptomId: symptomId as SymptomId,
      share: Math.min(1, share),
      signs,
    }))
    .sort((a, b) => b.share - a.share || (a.symptomId < b.symptomId ? -1 : 1));
}

function symptomsAt(circuit: Circuit, faults: readonly Fault[]): Map<string, string> {
  const found = new Map<string, string>();
  for (const action of actions) {
    const controls = positionsFor(circuit, action);
    if (!controls) continue;
    const { signs } = noticed(circuit, { faults: [...faults], controls });
    for (const rule of rules) {
      if (rule.during !== action.name) continue;
      const sign = signs.find(
        (one) =>
          rule.role.test(one.role ?? one.sign) &&
          rule.words.includes(one.word) &&
          one.word !== one.healthy.word,
      );
      if (sign) found.set(rule.symptomId, words(sign));
    }
    if (action.name === 'start') startSymptom(signs, found);
  }
  for (const [symptomId, signs] of batterySymptoms(circuit, faults)) found.set(symptomId, signs);
  return found;
}

/** A starter that stays still: by what its relay does, and whether anything else on the machine is alive. */
function startSymptom(signs: readonly NoticedSign[], found: Map<string, string>): void {
  const starter = signs.find((one) => one.role === 'starter');
  const relay = signs.find((one) => one.sign === 'relay');
  if (!starter || starter.healthy.word === 'still') return;
  if (relay?.word === 'chatter') {
    found.set('start-chatter', words(relay));
    found.delete('start-slow');
    return;
  }
  if (starter.word !== 'still') return;
  if (relay?.word === 'in') {
    found.set('start-click', `${words(relay)}, ${words(starter)}`);
    return;
  }
  const lamps = signs.filter((one) => one.sign === 'lamp' && one.healthy.word === 'bright');
  const isDark = lamps.length > 0 && lamps.every((one) => one.word === 'dark');
  found.set('start-dead', words(starter));
  if (isDark) found.set('no-power', lamps.map(words).join(', '));
}

function words(sign: NoticedSign): string {
  return `${sign.title ?? sign.component}: ${sign.word.replace('-', ' ')}`;
}

/** The positions of an action on this circuit; null when the circuit lacks the control that the action is about. */
function positionsFor(circuit: Circuit, action: Action): Record<string, string> | null {
  const controls: Record<string, string> = {};
  let isComplete = true;
  for (const [place, hold] of action.holds.entries()) {
    const entry = Object.entries(circuit.controls).find(([name]) => hold.control.test(name));
    const position = entry?.[1].positions.find((one) => hold.position.test(one));
    if (entry && position !== undefined) controls[entry[0]] = position;
    else if (place === action.holds.length - 1 && action.name !== 'key on') isComplete = false;
  }
  return isComplete ? controls : null;
}
