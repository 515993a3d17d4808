import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { defaultDataFolder } from '../api/index.ts';
import { Problem } from '../problem.ts';

/** What every door needs to know about this program and how it was started. */
export const programVersion = '0.1.0';

const compiled = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Folder of the compiled pages. */
export const pagesFolder = compiled('../renderer');
/** What was learned of the shipped handbook when the program was compiled. */
export const learnedFolder = compiled('../learned');
export const workerFile = (name: string): string => compiled(`./${name}.js`);

/** The shipped handbook: beside the compiled program in a clone, in the resources of an installed one. */
export function seedFolder(): string {
  const candidates = [
    process.env.BENCH_TALLY_SEED,
    compiled('../../seed/handbook'),
    'resourcesPath' in process ? resolve(String(process.resourcesPath), 'seed/handbook') : undefined,
  ];
  const found = candidates.find((folder) => folder !== undefined && existsSync(folder));
  if (!found)
    throw new Problem('bad-file', 'The shipped handbook (seed/handbook) is missing from the program.');
  return found;
}

export interface StartOptions {
  readonly dataFolder: string;
  readonly port: number;
  readonly open: boolean;
  readonly demo: boolean;
}

/** @throws Problem bad-input naming the option */
export function startOptions(args: readonly string[]): StartOptions {
  let values: { data?: string; port?: string; 'no-open'?: boolean; demo?: boolean };
  try {
    ({ values } = parseArgs({
      args: [...args],
      options: {
        data: { type: 'string' },
        port: { type: 'string' },
        'no-open': { type: 'boolean' },
        browser: { type: 'boolean' },
        demo: { type: 'boolean' },
      },
      allowPositionals: true,
    }));
  } catch (error) {
    throw new Problem('bad-input', error instanceof Error ? error.message : undefined, { field: 'options' });
  }
  const port = Number(values.port ?? 0);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new Problem('bad-input', `--port takes a number from 0 to 65535, not “${values.port}”.`, {
      field: '--port',
    });
  return {
    dataFolder: resolve(values.data ?? defaultDataFolder()),
    port,
    open: values['no-open'] !== true,
    demo: values.demo === true,
  };
}
