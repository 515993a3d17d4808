import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 as uuidv7 } from 'uuid';
import type { InputOf, OutputOf, ProcedureName } from '../../../src/api/contract.ts';
import { openHandler } from '../../../src/api/index.ts';

/** A shop in a folder of its own, on a clock that the test moves, with the shipped handbook. */
export interface TestShop {
  readonly folder: string;
  call<N extends ProcedureName>(name: N, input: InputOf<N>): Promise<OutputOf<N>>;
  /** For inputs that the compiler would refuse. */
  callRaw(name: string, input: unknown): Promise<unknown>;
  request(request: Request): Promise<Response>;
  /** Moves the clock on. */
  pass(days: number): void;
  close(): Promise<void>;
  /** Closes and leaves the folder as it is. */
  closeKeeping(): Promise<void>;
}

export const seedFolder = join(import.meta.dirname, '../../../seed/handbook');

export const learnedFolder = join(import.meta.dirname, '../../../out/learned');

export async function openShop(
  folder = mkdtempSync(join(tmpdir(), 'bench-tally-test-')),
  shipped = seedFolder,
): Promise<TestShop> {
  let ms = Date.parse('2026-03-02T09:00:00Z');
  const handler = await openHandler({
    dataFolder: folder,
    door: 'call',
    seedFolder: shipped,
    learnedFolder,
    programVersion: 'test',
    clock: () => {
      // Every look at the clock is a little later, as in life.
      ms += 10;
      return { ms, offset: 60 };
    },
    newId: uuidv7,
  });
  return {
    folder,
    call: (name, input) => handler.call(name, input) as Promise<OutputOf<typeof name>>,
    callRaw: (name, input) => handler.call(name, input),
    request: (request) => handler.handle(request),
    pass: (days) => {
      ms += days * 86_400_000;
    },
    closeKeeping: () => handler.close(),
    close: async () => {
      await handler.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
