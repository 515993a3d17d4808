import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { validateConfiguration } from 'app-builder-lib/out/util/config/config.js';
import { DebugLogger } from 'builder-util';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

const root = join(import.meta.dirname, '../../..');
const config = () =>
  parse(readFileSync(join(root, 'build/electron-builder.yml'), 'utf8')) as Record<string, unknown>;

describe('the installers', () => {
  it("are configured as the packager's own schema wants it", async () => {
    await validateConfiguration(config(), new DebugLogger(false));
    await expect(
      validateConfiguration({ ...config(), windows: {} } as object, new DebugLogger(false)),
    ).rejects.toThrow(/windows/);
  });

  it('ship the handbook, the license and icons that are there', () => {
    const { extraResources, win, mac, linux } = config() as {
      extraResources: { from: string }[];
      win: { icon: string };
      mac: { icon: string };
      linux: { icon: string };
    };
    for (const file of [...extraResources.map((one) => one.from), win.icon, mac.icon, linux.icon])
      expect(existsSync(join(root, file)), file).toBe(true);
  });
});
