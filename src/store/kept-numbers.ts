import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Numbers that take seconds to work out and can always be worked out again, kept as a file in the data folder; or found under
 * the same name in a folder that came with the program. Whatever goes wrong here is no trouble: they are worked out again.
 */
export function keptNumbers(
  dataFolder: string,
  shippedFolder: string | undefined,
  name: string,
): { load(): Float32Array | null; save(values: Float32Array): void } {
  const folder = join(dataFolder, 'cache');
  const file = join(folder, `${name}.f32`);
  return {
    load() {
      return read(file) ?? (shippedFolder === undefined ? null : read(join(shippedFolder, `${name}.f32`)));
    },
    save(values) {
      try {
        mkdirSync(folder, { recursive: true });
        const group = name.split('-')[0] ?? name;
        const fresh = `${file}.${process.pid}`;
        writeFileSync(fresh, new Uint8Array(values.buffer, values.byteOffset, values.byteLength));
        for (const other of readdirSync(folder))
          if (other.startsWith(`${group}-`) && other.endsWith('.f32'))
            rmSync(join(folder, other), { force: true });
        renameSync(fresh, file);
      } catch {
        // A full or read-only disk costs a second at the next start, nothing else.
      }
    },
  };
}

function read(file: string): Float32Array | null {
  try {
    const bytes = readFileSync(file);
    return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  } catch {
    return null;
  }
}
