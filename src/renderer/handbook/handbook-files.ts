interface HandbookFile {
  readonly path: string;
  readonly text: string;
}

const isFile = (value: unknown): value is HandbookFile =>
  typeof value === 'object' &&
  value !== null &&
  'path' in value &&
  typeof value.path === 'string' &&
  'text' in value &&
  typeof value.text === 'string';

/** Reads chosen files: YAML as it is, or a whole handbook saved from here. */
export async function filesOf(list: FileList): Promise<HandbookFile[]> {
  const files: HandbookFile[] = [];
  for (const file of list) {
    const text = await file.text();
    if (file.name.endsWith('.json')) {
      const saved: unknown = JSON.parse(text);
      if (Array.isArray(saved)) files.push(...saved.filter(isFile));
    } else files.push({ path: file.webkitRelativePath || file.name, text });
  }
  return files;
}

/** Saves all files of the handbook as one, in the browser's own way. */
export function saveFiles(files: readonly HandbookFile[]): void {
  const address = URL.createObjectURL(
    new Blob([JSON.stringify(files, null, 1)], { type: 'application/json' }),
  );
  const link = document.createElement('a');
  link.href = address;
  link.download = `handbook-${new Date().toISOString().slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(address);
}
