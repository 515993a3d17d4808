import { type Circuit, type Fault, readCircuit, type SolveOptions, solveCircuit } from '../circuit/index.ts';
import { Problem } from '../problem.ts';
import { type Entry, lineOfField } from './entry.ts';
import type { Finding } from './finding.ts';
import type { Shape } from './shapes.ts';

/**
 * What the circuit room says about the circuits themselves, about the faults that causes put into them, and about the
 * probes of checks: unknown names, fault modes that a component cannot have, instruments that must not be put there.
 */
export function circuitFindings(sound: readonly Entry[]): Finding[] {
  const findings: Finding[] = [];
  const circuits = new Map<string, Circuit>();
  for (const entry of sound) {
    if (entry.kind !== 'circuit') continue;
    const circuit = attempt(entry, '', findings, () => readCircuit(entry.body));
    if (circuit) circuits.set(entry.id, circuit);
  }
  for (const entry of sound) {
    if (entry.kind === 'cause') {
      for (const [id, state] of Object.entries((entry.body as Shape<'cause'>).wiring ?? {})) {
        const circuit = circuits.get(id);
        if (!circuit || !('faults' in state)) continue;
        const faults: readonly Fault[] = state.faults;
        attempt(entry, `wiring.${id}.`, findings, () => solveCircuit(circuit, { faults }));
      }
    } else if (entry.kind === 'check') {
      (entry.body as Shape<'check'>).probes?.forEach(({ circuit: id, ...probe }, index) => {
        const circuit = circuits.get(id);
        const options: SolveOptions = probe;
        if (circuit) attempt(entry, `probes[${index}].`, findings, () => solveCircuit(circuit, options));
      });
    }
  }
  return findings;
}

function attempt<T>(entry: Entry, prefix: string, findings: Finding[], work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    const field = (prefix + (error.where?.field ?? '')).replace(/\.$/, '');
    const line = lineOfField(entry, field);
    const place = { file: entry.path, line, ...(field ? { field } : {}), id: entry.id };
    findings.push({ severity: 'error', code: error.code, message: error.message, ...place });
    return undefined;
  }
}
