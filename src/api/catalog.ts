import type { Book } from '../book/index.ts';
import { type Attributes, attributeFault, attributesOfKind, partKey, readGtin } from '../parts/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  insertPart,
  neverChanged,
  type PartRow,
  partsByGtin,
  partsByIds,
  partsOfKinds,
  saveStock,
  stockRow,
} from '../store/index.ts';
import type { ParsedInputOf, PartCard } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { badField, changed, noteChange, partAt, viewCard } from './part-card.ts';
import { foldPart, partOf } from './part-views.ts';

type SaveInput = ParsedInputOf<'parts.save'>;
/** The kind of a number that came out of a price list and was not sorted yet. */
const unsorted = 'unsorted';

export const catalog = {
  'parts.card': async (desk, { partNumber }) => viewCard(desk, partNumber),
  'parts.form': async (desk, { kind }) => {
    kindOr404((await desk.book()).book, kind);
    const others = (await partsOfKinds(desk.db, [kind])).map((row) => partOf(row).attributes);
    return {
      attributes: attributesOfKind(kind).map((one) => ({
        ...one,
        usual: one.isNumber
          ? []
          : [...new Set(others.flatMap((known) => known[one.name] ?? []).map(String))].sort(),
      })),
    };
  },
  'parts.save': async (desk, input) =>
    input.ifVersion === undefined ? addPart(desk, input) : changePart(desk, input, input.ifVersion),
  'parts.retire': async (desk, input) => {
    const row = await partAt(desk, input.partNumber, input.ifVersion);
    const now = desk.now();
    const why = input.why ?? '';
    await changed(
      desk,
      row,
      {
        who: input.who,
        what: input.retired ? `taken out of use${why === '' ? '' : `: ${why}`}` : 'back in use',
      },
      input.retired
        ? { retired_ms: now.ms, retired_offset: now.offset, retired_why: why }
        : { retired_ms: null, retired_offset: null, retired_why: null },
    );
    return viewCard(desk, row.number);
  },
} satisfies Pick<Group<'parts.'>, 'parts.card' | 'parts.form' | 'parts.save' | 'parts.retire'>;

/** @throws Problem not-found naming the field */
function kindOr404(book: Book, kind: string): void {
  if (kind !== unsorted && !book.partKinds.has(kind))
    throw new Problem('not-found', `kind: the book has no part kind ${quoted(kind)}.`, {
      field: 'kind',
      id: kind,
    });
}

/** What is to be kept, checked field by field. @throws Problem bad-input, not-found, conflict */
async function checked(desk: Desk, input: SaveInput, before: PartRow | null) {
  const { book } = await desk.book();
  kindOr404(book, input.kind);
  const componentId = input.componentId === undefined ? (before?.component_id ?? null) : input.componentId;
  if (componentId !== null && !book.components.has(componentId))
    throw new Problem('not-found', `componentId: the book has no component ${quoted(componentId)}.`, {
      field: 'componentId',
      id: componentId,
    });
  const attributes: Attributes = input.attributes ?? (before ? partOf(before).attributes : {});
  const fault = attributeFault(input.kind, attributes);
  if (fault) throw badField(`attributes.${fault.name}`, fault.why);
  const id = partKey(input.partNumber);
  const gtin = input.gtin === undefined ? (before?.gtin ?? null) : await readBarcode(desk, input.gtin, id);
  const maker = input.maker ?? before?.maker ?? '';
  return {
    number: input.partNumber,
    title: input.title,
    kind: input.kind,
    component_id: componentId,
    maker,
    attributes: JSON.stringify(attributes),
    gtin,
    folded: foldPart({ id, title: input.title, maker, kind: input.kind, attributes }),
  };
}

/** @throws Problem bad-input where the check digit is wrong, conflict where another part has it */
async function readBarcode(desk: Desk, text: string | null, ownId: string): Promise<string | null> {
  if (text === null || text === '') return null;
  const read = readGtin(text);
  if (!read.ok) throw badField('gtin', `${quoted(text)}: ${read.why}`);
  const other = (await partsByGtin(desk.db, read.gtin14)).find((row) => row.id !== ownId);
  if (other)
    throw new Problem('conflict', `gtin: ${text} is the barcode of ${other.number}, ${other.title}.`, {
      field: 'gtin',
      id: other.number,
    });
  return read.gtin14;
}

async function saveShelf(desk: Desk, partId: string, input: SaveInput): Promise<void> {
  if (input.minimum === undefined && input.bin === undefined) return;
  const row = await stockRow(desk.db, partId);
  await saveStock(desk.db, {
    ...row,
    minimum: input.minimum ?? row.minimum,
    bin: input.bin === undefined ? row.bin : input.bin || null,
  });
}

async function addPart(desk: Desk, input: SaveInput): Promise<PartCard> {
  const id = partKey(input.partNumber);
  if (id === '')
    throw badField(
      'partNumber',
      `a number with letters or digits was expected, ${quoted(input.partNumber)} was given`,
    );
  const [known] = await partsByIds(desk.db, [id]);
  const row: PartRow = { id, ...(await checked(desk, input, null)), ...neverChanged };
  if (known) {
    // The same part sent again, because its answer was lost.
    if (Object.entries(row).every(([name, value]) => known[name as keyof PartRow] === value))
      return viewCard(desk, known.number);
    throw new Problem(
      'conflict',
      `partNumber: ${known.number} is in the catalog already (${known.title}); open it to change it.`,
      { field: 'partNumber', id: known.number },
    );
  }
  await insertPart(desk.db, row);
  await saveShelf(desk, id, input);
  await noteChange(desk, id, { who: input.who, what: 'added to the catalog' });
  return viewCard(desk, row.number);
}

/** What reads differently, in words. */
function differences(before: PartRow, after: Omit<PartRow, 'id' | keyof typeof neverChanged>): string[] {
  const shown = (value: string | number | null | undefined): string =>
    value === null || value === undefined || value === '' ? 'nothing' : `“${value}”`;
  const words: string[] = [];
  const tell = (
    name: string,
    one: string | number | null | undefined,
    other: string | number | null | undefined,
  ) => {
    if ((one ?? '') !== (other ?? '')) words.push(`${name} ${shown(one)} → ${shown(other)}`);
  };
  tell('number', before.number, after.number);
  tell('description', before.title, after.title);
  tell('kind', before.kind, after.kind);
  tell('component', before.component_id, after.component_id);
  tell('maker', before.maker, after.maker);
  tell('barcode', before.gtin, after.gtin);
  const old = JSON.parse(before.attributes) as Attributes;
  const next = JSON.parse(after.attributes) as Attributes;
  for (const name of new Set([...Object.keys(old), ...Object.keys(next)])) tell(name, old[name], next[name]);
  return words;
}

async function changePart(desk: Desk, input: SaveInput, ifVersion: number): Promise<PartCard> {
  const row = await partAt(desk, input.partNumber, ifVersion);
  const set = await checked(desk, input, row);
  const shelf = await stockRow(desk.db, row.id);
  await saveShelf(desk, row.id, input);
  const after = await stockRow(desk.db, row.id);
  const what = differences(row, set);
  if (shelf.bin !== after.bin) what.push(`bin ${shelf.bin ?? 'none'} → ${after.bin ?? 'none'}`);
  if (shelf.minimum !== after.minimum) what.push(`minimum ${shelf.minimum} → ${after.minimum}`);
  // Nothing that is different is no change.
  if (what.length === 0) return viewCard(desk, row.number);
  await changed(desk, row, { who: input.who, what: what.join('; ') }, set);
  return viewCard(desk, set.number);
}
