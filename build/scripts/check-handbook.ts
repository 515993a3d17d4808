/**
 * Checks the handbook's files: `npx node build/scripts/check-handbook.ts [path prefix …]`.
 * Prints the findings under the prefixes (all without one) as file:line, then what the whole book covers.
 * Ends with 1 when an error is among the printed findings.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { type Circuit, readCircuit } from '../../src/circuit/index.ts';
import { wiringLikelihood } from '../../src/diagnosis/index.ts';
import {
  buildBook,
  coverage,
  findingLine,
  inReadingOrder,
  lintBook,
  readHandbook,
  type WiringChances,
} from '../../src/handbook/index.ts';
import { Problem } from '../../src/problem.ts';
import type { CircuitId } from '../../src/terms.ts';

const root = join(import.meta.dirname, '..', '..', 'seed', 'handbook');
const prefixes = process.argv.slice(2).filter((argument) => !argument.startsWith('--'));

const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.yaml') || path.endsWith('.yml'))
  .sort()
  .map((path) => ({
    path: relative(root, join(root, path)).split(sep).join('/'),
    text: readFileSync(join(root, path), 'utf8'),
  }));

const read = readHandbook(files);
const built = buildBook(read.entries, 'check');
/** A circuit that cannot be read is among the findings; its checks then count by their tables. */
const circuits = new Map<CircuitId, Circuit>();
for (const entry of read.entries) {
  if (entry.kind !== 'circuit') continue;
  try {
    circuits.set(entry.id as CircuitId, readCircuit(entry.body));
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
  }
}
const likelihood = wiringLikelihood(built.book, circuits, null);
const wiring: WiringChances = (checkId, causeId) => likelihood?.chancesFor(checkId, causeId) ?? null;
const lint = lintBook(built.book, { entries: read.entries, wiring });
const findings = inReadingOrder([...read.findings, ...built.findings, ...lint]);
const shown = findings.filter(
  (finding) => prefixes.length === 0 || prefixes.some((prefix) => finding.file.startsWith(prefix)),
);
for (const finding of shown) console.log(findingLine(finding));
const count = (severity: string): number => shown.filter((finding) => finding.severity === severity).length;
console.log(
  `\n${count('error')} errors, ${count('warning')} warnings, ${count('note')} notes in ${files.length} files`,
);
const { bySystem, bySymptom, specsByBasis, ...totals } = coverage(built.book, wiring);
console.log(
  Object.entries(totals)
    .map(([what, number]) => `${what} ${number}`)
    .join(', '),
);
console.table(bySystem);
console.log(`specs by basis: ${JSON.stringify(specsByBasis)}`);
const thin = bySymptom.filter((symptom) => !symptom.enough);
console.log(
  `${bySymptom.length - thin.length} of ${bySymptom.length} symptoms have enough causes and checks`,
);
if (count('error') > 0) process.exitCode = 1;
