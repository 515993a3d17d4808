import {
  columnName,
  findColumns,
  findDecimalSign,
  guessColumns,
  type ListRecord,
  type Mapping,
  mappingFor,
  mostLinesBefore,
} from '../parts/index.ts';
import { Problem } from '../problem.ts';
import { findSupplier } from '../store/index.ts';
import type { ListMapping, ListPreview, ParsedInputOf } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { slugOf } from './price-lists.ts';
import { openSource, type PriceSource } from './price-source.ts';

const linesLookedAt = 300;
const linesShown = 6;

export const priceListPreview = {
  'parts.previewList': async (desk, input) => previewList(desk, input),
} satisfies Pick<Group<'parts.'>, 'parts.previewList'>;

/** The line of headings, and what it says: as remembered, by the usual words, else the widest line. */
function findHeadings(
  lines: readonly ListRecord[],
  remembered: Mapping | null,
): { at: ListRecord; mapping: Mapping; isRemembered: boolean } | null {
  const first = lines.slice(0, mostLinesBefore);
  for (const at of remembered ? first : []) {
    const places = findColumns(at.fields, remembered);
    if (places) return { at, mapping: mappingFor(at.fields, places), isRemembered: true };
  }
  const [best] = first
    .map((at) => ({ at, ...guessColumns(at.fields) }))
    .sort((a, b) => b.found - a.found || b.at.fields.length - a.at.fields.length);
  return best ? { at: best.at, mapping: best.mapping, isRemembered: false } : null;
}

async function firstLines(source: PriceSource): Promise<ListRecord[]> {
  const lines: ListRecord[] = [];
  for await (const some of source.records()) {
    lines.push(...some.filter((one) => one.problem === null && one.fields.some((field) => field !== '')));
    if (lines.length >= linesLookedAt) break;
  }
  return lines.slice(0, linesLookedAt);
}

/** @throws Problem not-found where the upload is gone, bad-file where nothing can be read */
async function previewList(desk: Desk, input: ParsedInputOf<'parts.previewList'>): Promise<ListPreview> {
  const source = openSource(desk.options.dataFolder, input);
  const { name, form } = source;
  const lines = await firstLines(source);
  const supplierId = slugOf(input.supplier);
  const supplier = supplierId === '' ? undefined : await findSupplier(desk.db, supplierId);
  const remembered = supplier?.mapping ? (JSON.parse(supplier.mapping) as Mapping) : null;
  const headings = findHeadings(lines, remembered);
  if (!headings)
    throw new Problem('bad-file', `The file ${name} has no line that can be read.`, {
      field: 'uploadId',
      file: name,
    });
  const below = lines.slice(lines.indexOf(headings.at) + 1);
  const names = headings.at.fields.map((_, place) => columnName(headings.at.fields, place));
  const place = names.indexOf(headings.mapping.price ?? '\0');
  return {
    fileName: name,
    encoding: form.encoding,
    delimiter: form.delimiter,
    decimalSign: findDecimalSign(
      below.flatMap((line) => (place < 0 ? line.fields : [line.fields[place] ?? ''])),
      form.delimiter,
    ),
    headingsRow: headings.at.row,
    headings: [...headings.at.fields],
    names,
    rows: below.slice(0, linesShown).map(({ row, fields }) => ({ row, fields: [...fields] })),
    mapping: headings.mapping as ListMapping,
    isRemembered: headings.isRemembered,
  };
}
