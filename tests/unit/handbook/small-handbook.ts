import { type Entry, type Finding, readHandbook } from '../../../src/handbook/index.ts';

/** A small handbook in which nothing is wrong, not even for the lint. Invented throughout. */
export const smallFiles: readonly { path: string; text: string }[] = [
  {
    path: 'handbook.yaml',
    text: `id: small
title: A small handbook
version: 0.1.0
`,
  },
  {
    path: 'cautions.yaml',
    text: `# Cautions stand first.
- id: fuel-vapor
  signal: WARNING
  hazard: Vapor burns.
  avoid: No flame.
- {id: ohmmeter-dead-circuit, signal: NOTICE, hazard: A live circuit spoils the meter., avoid: Key off.}
- {id: do-not-ride-brakes, signal: DANGER, hazard: It will not stop., avoid: Have it carried., do_not_ride: true}
`,
  },
  {
    path: 'components.yaml',
    text: `- {id: horn, title: Horn, system: lighting}
- {id: horn-button, title: Horn button, system: lighting}
- {id: horn-wire, title: Horn wire, system: lighting}
- {id: fuel-tank, title: Fuel tank, system: fuel, hazards: [fuel]}
`,
  },
  {
    path: 'part-kinds.yaml',
    text: `- {id: horn, title: Horn, typical_price: "13.00", basis: demo}
`,
  },
  {
    path: 'families.yaml',
    text: `- {id: pellan-50, title: Pellan 50, displacement_cm3: 49, traits: {stroke: four, fueling: carburetor}}
`,
  },
  {
    path: 'models.yaml',
    text: `- {id: pellan-vico, maker: Pellan, name: Vico, family: pellan-50, years: [2010, 2020], traits: {fueling: injection}, aliases: [vico], basis: demo}
`,
  },
  {
    path: 'preconditions.yaml',
    text: `- {id: battery-charged, title: Battery charged, because: Else nothing counts., check: volts-rest, met_by: [good], otherwise: Charge it., elapsed_minutes: 240}
`,
  },
  {
    path: 'questions.yaml',
    text: `- id: which-lamp
  ask: Horn or lamp?
  answers:
    - {say: "The horn, it is silent", symptom: horn-dead}
    - {say: The horn is weak, symptom: horn-dead}
`,
  },
  {
    path: 'systems/lighting/symptoms.yaml',
    text: `- id: horn-dead
  title: Horn does not sound
  meaning: Horn weak or silent
  unlisted_of_100: 10
  priors:
    - {cause: horn-open, of_100: 40, because: "Horns rust."}
    - {cause: horn-button-worn, of_100: 30, because: "Buttons wear."}
    - {cause: horn-wire-open, of_100: 15, because: "Wires break at the steering head."}
    - {cause: horn-off-key, of_100: 5, because: "Riders press it with the key off."}
`,
  },
  {
    path: 'systems/lighting/causes.yaml',
    text: `- id: horn-open
  title: Horn open inside
  component: horn
  fault_mode: open
  shows: Silent, whatever the button does.
  repair:
    title: Replace the horn
    steps: [Unplug it., Fit the new one.]
    minutes: 20
    parts: [horn]
    proof: Sound it five times.
  basis: common-practice
- id: horn-button-worn
  title: Horn button contacts worn
  component: horn-button
  fault_mode: resistive
  shows: Works when pressed hard.
  shows_with: 0.7
  repair:
    title: Clean the button
    steps: [Open the cluster., "Clean it: spray and wipe."]
    minutes: 25
    parts: []
    proof: Sound it five times.
  basis: common-practice
- id: horn-wire-open
  title: Horn wire broken
  component: horn-wire
  fault_mode: open
  on: {fueling: [injection]}
  shows: Comes and goes with the bars.
  repair: {title: Mend the wire, steps: [Mend it.], minutes: 40, parts: [], proof: Turn the bars while it sounds.}
  basis: common-practice
- id: horn-off-key
  title: Key was off
  kind: handling
  component: horn
  fault_mode: key off
  shows: Works as soon as the key is on.
  repair: {title: Explain, steps: [Show the rider.], minutes: 5, parts: [], proof: Key on and it sounds.}
  basis: common-practice
`,
  },
  {
    path: 'systems/lighting/checks.yaml',
    text: `- id: horn-hard-press
  title: Press the button hard
  kind: listen
  phone: true
  minutes: 1
  steps: [Key on., Press hard.]
  healthy: It sounds.
  place: At the bars
  outcomes:
    - {id: sounds, title: Sounds when pressed hard, means: Look at the button., healthy: 0.9}
    - {id: silent, title: Stays silent, means: Not the button., healthy: 0.1}
  when:
    horn-open: {silent: 0.97}
    horn-button-worn: {sounds: 0.8}
    horn-wire-open: {silent: 0.9}
  basis: common-practice
- id: horn-key-ask
  title: Was the key on?
  kind: ask
  minutes: 1
  steps: [Ask.]
  healthy: The key was on.
  outcomes:
    - {id: on, title: Key was on, means: Go on., healthy: 0.95}
    - {id: off, title: Key was off, means: That was it., healthy: 0.05}
  when:
    horn-off-key: {off: 0.9}
  basis: common-practice
- id: horn-ohms
  title: Horn resistance
  kind: measure
  instrument: ohmmeter
  place: Behind the front panel
  minutes: 6
  steps: [Unplug the horn., Measure across it.]
  healthy: 1 to 5 ohm
  spec: horn-resistance
  quantity: {name: resistance, unit: ohm, possible: [0, 100]}
  cautions: [ohmmeter-dead-circuit]
  outcomes:
    - {id: open, title: Above 20 ohm, means: Horn is open., healthy: 0.02, range: [20, null]}
    - {id: fine, title: Up to 20 ohm, means: Horn is whole., healthy: 0.98, range: [null, 20]}
  when:
    horn-open: {open: 0.95}
  basis: common-practice
- id: volts-rest
  title: Battery volts at rest
  kind: measure
  instrument: voltmeter
  place: Battery
  minutes: 3
  steps: [Measure.]
  healthy: Above 12.5 V
  quantity: {name: voltage, unit: V, possible: [0, 20]}
  outcomes:
    - {id: low, title: Below 12.5 V, means: Charge it., healthy: 0.1, range: [null, 12.5]}
    - {id: good, title: 12.5 V or more, means: Go on., healthy: 0.9, range: [12.5, null]}
  basis: {kind: published, source: "An invented book, section 1"}
`,
  },
  {
    path: 'systems/lighting/specs.yaml',
    text: `- {id: horn-resistance, title: Horn, component: horn, quantity: resistance, unit: ohm, low: 1, high: 5, conditions: "20 °C, unplugged", basis: common-practice}
`,
  },
  {
    path: 'phrases/lighting.yaml',
    text: `horn-dead:
  - horn is dead
  - no beep   # shorthand
`,
  },
  { path: 'phrases/out-of-scope.yaml', text: 'phrases:\n  - my kettle leaks\n' },
  { path: 'phrases/electric-drive.yaml', text: 'phrases:\n  - the range of my e-scooter dropped\n' },
];

/** The small handbook with texts of one file replaced. Fails when the text is not there, so that a test cannot miss. */
export function smallWith(
  path: string,
  ...changes: readonly (readonly [from: string, to: string])[]
): { path: string; text: string }[] {
  let found = false;
  const files = smallFiles.map((file) => {
    if (file.path !== path) return file;
    found = true;
    let text = file.text;
    for (const [from, to] of changes) {
      if (!text.includes(from)) throw new Error(`“${from}” is not in ${path}`);
      text = text.replace(from, () => to);
    }
    return { path, text };
  });
  if (!found) throw new Error(`${path} is not in the small handbook`);
  return files;
}

export function smallEntries(): Entry[] {
  return readHandbook(smallFiles).entries;
}

/** Finds the one finding with this code, or says what there is instead. */
export function only(findings: readonly Finding[], code: string): Finding {
  const found = findings.filter((finding) => finding.code === code);
  const [first] = found;
  if (!first || found.length > 1) {
    throw new Error(`expected one ${code}, got ${JSON.stringify(findings, null, 1)}`);
  }
  return first;
}

export const codes = (findings: readonly Finding[]): string[] => findings.map((finding) => finding.code);

/** Line, counted from 1, of the first line that holds the words. */
export function lineWith(text: string, words: string): number {
  const index = text.split('\n').findIndex((line) => line.includes(words));
  if (index < 0) throw new Error(`no line holds “${words}”`);
  return index + 1;
}
