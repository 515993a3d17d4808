/**
 * What tells machines apart for diagnosis. A cause or a check names the values it needs; what it does not name
 * does not matter to it.
 */
export const traits = {
  stroke: ['two', 'four'],
  cooling: ['air', 'liquid'],
  fueling: ['carburetor', 'injection'],
  starter: ['relay', 'control-unit', 'none'],
  start_button: ['ground-side', 'supply-side', 'control-unit', 'none'],
  kick: ['yes', 'no'],
  stator: ['half-wave', 'three-phase'],
  headlamp_supply: ['ac', 'dc'],
  headlamp: ['bulb', 'led'],
  ignition: ['capacitor-discharge', 'inductive'],
  fuel_feed: ['gravity', 'vacuum-pump', 'electric-pump'],
  oil_feed: ['sump', 'premix', 'oil-pump'],
  front_brake: ['disc', 'drum'],
  rear_brake: ['disc', 'drum'],
  abs: ['yes', 'no'],
  immobilizer: ['yes', 'no'],
  side_stand_switch: ['yes', 'no'],
  battery: ['lead-acid', 'lithium'],
  speedometer: ['cable', 'sensor'],
  instruments: ['analog', 'digital'],
} as const satisfies Record<string, readonly string[]>;

export type Trait = keyof typeof traits;
export type TraitValue<T extends Trait = Trait> = (typeof traits)[T][number];
/** The traits of one machine; a trait nobody wrote down is unknown, and rules nothing out. */
export type MachineTraits = { readonly [T in Trait]?: TraitValue<T> };
/** Values on which something exists. Every named trait must match; no entry means every machine. */
export type ExistsOn = { readonly [T in Trait]?: readonly TraitValue<T>[] };

/** True unless a known trait of the machine contradicts the condition. */
export function existsOn(condition: ExistsOn, machine: MachineTraits | undefined): boolean {
  if (!machine) return true;
  for (const [trait, allowed] of Object.entries(condition) as [Trait, readonly string[]][]) {
    const value = machine[trait];
    if (value !== undefined && !allowed.includes(value)) return false;
  }
  return true;
}
