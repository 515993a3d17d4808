/** A moment as part of a file name: 2026-11-25-140312. */
export function stamp(ms: number): string {
  return new Date(ms).toISOString().slice(0, 19).replace('T', '-').replaceAll(':', '');
}
