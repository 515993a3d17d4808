import {
  createReadStream,
  createWriteStream,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  type WriteStream,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as NodeWebStream } from 'node:stream/web';
import { Problem, quoted } from '../problem.ts';
import { asProblem } from './sqlite.ts';

/** Files that a window handed over, kept beside the shop data until they were used. */

const folderOf = (dataFolder: string): string => join(dataFolder, 'uploads');
const fileOf = (dataFolder: string, id: string): string => join(folderOf(dataFolder), `${id}.upload`);
const nameOf = (dataFolder: string, id: string): string => join(folderOf(dataFolder), `${id}.name`);

const megabyte = 1024 * 1024;

export interface Uploaded {
  readonly path: string;
  /** What the file was called where it came from. */
  readonly name: string;
}

/**
 * Writes what comes in to a file of its own, piece by piece. What breaks off or is too long leaves nothing behind.
 * @param most bytes at most
 * @returns bytes received
 * @throws Problem too-large, cannot-write, bad-input where it breaks off
 */
export async function receiveUpload(
  dataFolder: string,
  given: { readonly id: string; readonly name: string; readonly nowMs: number; readonly most: number },
  body: ReadableStream<Uint8Array> | null,
): Promise<number> {
  const { id, name, nowMs, most } = given;
  const file = fileOf(dataFolder, id);
  const unfinished = `${file}.part`;
  let bytes = 0;
  const counted = async function* (pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    for await (const piece of pieces) {
      bytes += piece.length;
      if (bytes > most)
        throw new Problem('too-large', `A file may have ${Math.floor(most / megabyte)} MiB at most.`, {
          file: name,
        });
      yield piece;
    }
  };
  let sink: WriteStream | null = null;
  try {
    mkdirSync(folderOf(dataFolder), { recursive: true });
    sink = createWriteStream(unfinished);
    await pipeline(
      body === null ? Readable.from([]) : Readable.fromWeb(body as NodeWebStream<Uint8Array>),
      counted,
      sink,
    );
    writeFileSync(nameOf(dataFolder, id), name);
    renameSync(unfinished, file);
    utimesSync(file, nowMs / 1000, nowMs / 1000);
    return bytes;
  } catch (error) {
    // A file that is still being opened would come into being after it was removed.
    const open = sink;
    if (open && !open.closed) await new Promise<void>((resolve) => open.once('close', () => resolve()));
    rmSync(unfinished, { force: true });
    rmSync(nameOf(dataFolder, id), { force: true });
    const problem = asProblem(error, file);
    if (problem instanceof Problem) throw problem;
    // The disk has codes of its own: what is left is a sender who went away.
    const message = `The file broke off after ${bytes} bytes; send it again.`;
    throw new Problem('bad-input', message, { file: name }, { cause: error });
  }
}

/** @throws Problem not-found where it was never received, was used already, or was swept */
export function uploadedFile(dataFolder: string, id: string): Uploaded {
  const path = fileOf(dataFolder, id);
  try {
    statSync(path);
    return { path, name: readFileSync(nameOf(dataFolder, id), 'utf8') };
  } catch (error) {
    throw new Problem(
      'not-found',
      `There is no uploaded file ${quoted(id)}; it was used already or was left too long. Choose the file again.`,
      { field: 'uploadId', id },
      { cause: error },
    );
  }
}

export function dropUpload(dataFolder: string, id: string): void {
  rmSync(fileOf(dataFolder, id), { force: true });
  rmSync(nameOf(dataFolder, id), { force: true });
}

/** Removes what was left behind before a moment; without one, everything. */
export function sweepUploads(dataFolder: string, beforeMs = Number.POSITIVE_INFINITY): void {
  let names: string[];
  try {
    names = readdirSync(folderOf(dataFolder));
  } catch {
    // None was ever received.
    return;
  }
  for (const name of names) {
    const file = join(folderOf(dataFolder), name);
    // The moment of an upload is that of its content; its name file is only as old as the disk says.
    const content = name.replace(/\.(name|upload\.part)$/, '.upload');
    const age = statSync(join(folderOf(dataFolder), content), { throwIfNoEntry: false });
    // One that is still coming in has no content yet, and is not ended by the next one that comes.
    if (beforeMs === Number.POSITIVE_INFINITY || (age && age.mtimeMs < beforeMs))
      rmSync(file, { force: true });
  }
}

/** A file of rejected lines, for a window that wants to keep it. @throws Problem not-found */
export function openRejects(dataFolder: string, name: string): ReadableStream<Uint8Array> {
  const file = join(dataFolder, 'rejects', name);
  if (!/^[a-z0-9-]+\.csv$/.test(name) || !statSync(file, { throwIfNoEntry: false })?.isFile())
    throw new Problem('not-found', `There is no file of rejected lines ${quoted(name)}.`, { id: name });
  return Readable.toWeb(createReadStream(file)) as ReadableStream<Uint8Array>;
}
