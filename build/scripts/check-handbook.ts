/**
 * Checks the handbook's files: `npx node build/scripts/check-handbook.ts [path prefix …]`.
 * Prints the findings under the prefixes (all without one) as file:line, then what the whole book covers.
 * Ends with 1 when an error is among the printed findings.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import {
  buildBook,
  coverage,
  findingLine,
  inReadingOrder,
  lintBook,
  readHandbook,
} from '../../src/handbook/index.ts';

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
const lint = lintBook(built.book, { entries: read.entries });
const findings = inReadingOrder([...read.findings, ...built.findings, ...lint]);
const shown = findings.filter(
  (finding) => prefixes.length === 0 || prefixes.some((prefix) => finding.file.startsWith(prefix)),
);
for (const finding of shown) console.log(findingLine(finding));
const count = (severity: string): number => shown.filter((finding) => finding.severity === severity).length;
console.log(
  `\n${count('error')} errors, ${count('warning')} warnings, ${count('note')} notes in ${files.length} files`,
);
const { bySystem, bySymptom, specsByBasis, ...totals } = coverage(built.book);
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
