import { Problem } from '../problem.ts';
import { listSuppliers, sweepSorting } from '../store/index.ts';
import type { ListMapping, ParsedInputOf } from './contract.ts';
import type { Desk, Office } from './desk.ts';
import type { Group } from './group.ts';
import { PriceImport } from './price-import.ts';
import { openSource } from './price-source.ts';

export const priceLists = {
  'parts.importPrices': async (desk, input) => startImport(desk, input),
  'parts.suppliers': async (desk) => ({
    suppliers: (await listSuppliers(desk.db)).map((row) => ({
      supplierId: row.id,
      name: row.name,
      mapping: row.mapping === null ? null : (JSON.parse(row.mapping) as ListMapping),
    })),
  }),
} satisfies Pick<Group<'parts.'>, 'parts.importPrices' | 'parts.suppliers'>;

/** Suppliers whose list is being read at this moment, per open shop. */
const busy = new WeakMap<Office, Set<string>>();

const longestSorting_ms = 24 * 3_600_000;

export const slugOf = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 80);

async function startImport(
  desk: Desk,
  input: ParsedInputOf<'parts.importPrices'>,
): Promise<{ workId: string }> {
  const given = [input.path, input.text, input.uploadId].filter((one) => one !== undefined);
  if (given.length !== 1)
    throw new Problem('bad-input', 'Give one of path, text and uploadId.', { field: 'path' });
  const { dataFolder } = desk.options;
  // A file that is not there is told now, not by the work.
  openSource(dataFolder, input);
  const supplierId = slugOf(input.supplier);
  if (supplierId === '')
    throw new Problem('bad-input', 'supplier: a name with letters or digits was expected.', {
      field: 'supplier',
    });
  const running = busy.get(desk.office) ?? new Set();
  busy.set(desk.office, running);
  if (running.has(supplierId))
    throw new Problem(
      'not-allowed-now',
      `A list of ${input.supplier} is being read already; wait for it or cancel it.`,
      { field: 'supplier' },
    );
  running.add(supplierId);
  sweepSorting(dataFolder, Date.now() - longestSorting_ms);
  const workId = desk.newId();
  desk.works.start(workId, `Price list of ${input.supplier}`, async (worker) => {
    try {
      return await new PriceImport(desk.office, worker, input, supplierId).run();
    } finally {
      running.delete(supplierId);
    }
  });
  return { workId };
}
