/** The table of component kinds. Adding a kind means one file here, one line below, and a test. */
import { Problem, quoted } from '../../problem.ts';
import type { ComponentKind } from '../kind.ts';
import { battery } from './battery.ts';
import { controlUnit } from './control-unit.ts';
import { diode } from './diode.ts';
import { dischargeIgnition } from './discharge-ignition.ts';
import { flasher } from './flasher.ts';
import { fuse } from './fuse.ts';
import { horn } from './horn.ts';
import { lamp } from './lamp.ts';
import { motor } from './motor.ts';
import { rectifier } from './rectifier.ts';
import { relay } from './relay.ts';
import { resistor } from './resistor.ts';
import { sensor } from './sensor.ts';
import { seriesRegulator } from './series-regulator.ts';
import { shuntRegulator } from './shunt-regulator.ts';
import { stator } from './stator.ts';
import { operatedSwitch } from './switch.ts';
import { thermoSwitch } from './thermo-switch.ts';
import { threePhaseStator } from './three-phase-stator.ts';
import { variableResistor } from './variable-resistor.ts';
import { wire } from './wire.ts';
import { zener } from './zener.ts';

const all = [
  battery,
  wire,
  fuse,
  operatedSwitch,
  thermoSwitch,
  lamp,
  relay,
  motor,
  resistor,
  horn,
  diode,
  zener,
  stator,
  threePhaseStator,
  rectifier,
  shuntRegulator,
  seriesRegulator,
  flasher,
  controlUnit,
  dischargeIgnition,
  sensor,
  variableResistor,
];

export const componentKinds: ReadonlyMap<string, ComponentKind> = new Map(all.map((k) => [k.kind, k]));

/** The kind of a component that readCircuit has accepted. */
export function kindOf(name: string): ComponentKind {
  const kind = componentKinds.get(name);
  if (!kind) throw new Problem('bad-circuit', `There is no component kind ${quoted(name)}.`);
  return kind;
}
