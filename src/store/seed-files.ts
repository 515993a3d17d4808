import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { Problem } from '../problem.ts';

/**
 * Reads every YAML file below a folder, in the order of its path.
 * @throws Problem bad-file when the folder is not there
 */
export function readYamlFolder(folder: string): { path: string; text: string }[] {
  let names: string[];
  try {
    if (!statSync(folder).isDirectory()) throw new Error('not a folder');
    names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  } catch (error) {
    throw new Problem(
      'bad-file',
      `There is no folder with a handbook at ${folder}.`,
      { file: folder },
      { cause: error },
    );
  }
  return names
    .filter((name) => /\.ya?ml$/i.test(name))
    .sort()
    .map((name) => {
      const file = join(folder, name);
      return { path: relative(folder, file).split(sep).join('/'), text: readFileSync(file, 'utf8') };
    });
}
