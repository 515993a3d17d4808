import { homedir } from 'node:os';
import { join } from 'node:path';

/** Where shop data lives unless told otherwise: the user's own data folder, never the program's. */
export function defaultDataFolder(env: NodeJS.ProcessEnv = process.env, platform = process.platform): string {
  const chosen = env.BENCH_TALLY_DATA;
  if (chosen) return chosen;
  if (platform === 'win32') return join(env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'Bench Tally');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Bench Tally');
  return join(env.XDG_DATA_HOME ?? join(homedir(), '.local', 'share'), 'bench-tally');
}
