import { didYouMean } from './closest-name.ts';
import { type Entry, lineOfField } from './entry.ts';
import type { Ids } from './entry-rules.ts';
import type { Finding } from './finding.ts';
import type { Shape } from './shapes.ts';

interface CircuitNames {
  readonly components: readonly string[];
  readonly places: readonly string[];
  readonly plugs: readonly string[];
  readonly controls: Readonly<Record<string, readonly string[]>>;
}

/** Names of components, probe places, plugs and controls that a cause or check uses but the circuit does not have. */
export function circuitNameFindings(entry: Entry, ids: Ids): Finding[] {
  const findings: Finding[] = [];
  const namesOf = (circuit: string): CircuitNames | undefined => {
    const found = ids.get('circuit')?.get(circuit);
    return found && !found.flawed ? circuitNames(found.body) : undefined;
  };
  const need = (
    field: string,
    what: string,
    name: string,
    known: readonly string[],
    circuit: string,
  ): void => {
    if (known.includes(name)) return;
    findings.push({
      severity: 'error',
      code: 'unknown-in-circuit',
      message: `the circuit “${circuit}” has no ${what} “${name}”${didYouMean(name, known)}`,
      file: entry.path,
      line: lineOfField(entry, field),
      field,
      id: entry.id,
    });
  };
  if (entry.kind === 'cause') {
    for (const [circuit, state] of Object.entries((entry.body as Shape<'cause'>).wiring ?? {})) {
      const names = namesOf(circuit);
      if (!names || !('faults' in state)) continue;
      state.faults.forEach((fault, index) => {
        need(
          `wiring.${circuit}.faults[${index}].component`,
          'component',
          fault.component,
          names.components,
          circuit,
        );
      });
    }
  }
  if (entry.kind === 'check') {
    (entry.body as Shape<'check'>).probes?.forEach((probe, index) => {
      const names = namesOf(probe.circuit);
      if (!names) return;
      const at = `probes[${index}]`;
      const { instrument, circuit } = probe;
      if (instrument.kind === 'ammeter') {
        need(`${at}.instrument.around`, 'component', instrument.around, names.components, circuit);
      } else {
        need(`${at}.instrument.lead`, 'point or node', instrument.lead, names.places, circuit);
        need(`${at}.instrument.tip`, 'point or node', instrument.tip, names.places, circuit);
      }
      for (const [control, position] of Object.entries(probe.controls ?? {})) {
        need(`${at}.controls.${control}`, 'control', control, Object.keys(names.controls), circuit);
        const positions = names.controls[control];
        if (positions)
          need(`${at}.controls.${control}`, `position of ${control}`, position, positions, circuit);
      }
      probe.unplugged?.forEach((plug, place) => {
        need(`${at}.unplugged[${place}]`, 'plug', plug, names.plugs, circuit);
      });
      probe.removed?.forEach((part, place) => {
        need(`${at}.removed[${place}]`, 'component', part, names.components, circuit);
      });
    });
  }
  return findings;
}

/** Read loosely: the circuit room says what is wrong with the circuit itself. */
function circuitNames(body: Readonly<Record<string, unknown>>): CircuitNames {
  const components = Array.isArray(body.components) ? body.components.filter(isRecord) : [];
  const nodes = new Set<string>();
  for (const component of components) {
    for (const [field, value] of Object.entries(component)) {
      if (field === 'id' || field === 'kind' || field === 'control' || field === 'closed_at') continue;
      for (const node of Array.isArray(value) ? value : [value])
        if (typeof node === 'string') nodes.add(node);
    }
  }
  const points = isRecord(body.points) ? Object.keys(body.points) : [];
  const controls: Record<string, readonly string[]> = {};
  for (const [name, control] of Object.entries(isRecord(body.controls) ? body.controls : {})) {
    const positions = isRecord(control) && Array.isArray(control.positions) ? control.positions : [];
    controls[name] = positions.map(String);
  }
  return {
    components: components.map((component) => String(component.id)),
    places: [...points, ...nodes],
    plugs: isRecord(body.plugs) ? Object.keys(body.plugs) : [],
    controls,
  };
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
