import { join } from 'node:path';
import type { Book } from '../../../src/book/index.ts';
import { buildBook, readHandbook } from '../../../src/handbook/index.ts';
import { readYamlFolder } from '../../../src/store/index.ts';

/** The shipped handbook as a book. */
export function shippedBook(): Book {
  const files = readYamlFolder(join(import.meta.dirname, '../../../seed/handbook'));
  return buildBook(readHandbook(files).entries, 'shipped').book;
}
