import type { Book } from '../book/index.ts';
import {
  closeness,
  decodeVin,
  type Fit,
  fitParts,
  keysFor,
  type Machine,
  type Part,
  partKey,
  readGtin,
  replacedBy,
} from '../parts/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  allSupersessions,
  fitmentsFor,
  fitmentsOf,
  groupsOf,
  type PartRow,
  partsByGtin,
  partsByIds,
  partsByNumber,
  partsByWords,
  partsOfKinds,
  pricedByNumber,
  pricedByWords,
} from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import type { OutputOf, ParsedInputOf, PartView } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import {
  fitmentOf,
  machineTitle,
  partOf,
  printedNumbers,
  shopSide,
  supersessionOf,
  viewParts,
} from './part-views.ts';
import { modelOr404, vehicleOr404 } from './people.ts';

const defaultLimit = 20;

export const parts = {
  'parts.find': async (desk, input) => findParts(desk, input),
  'parts.fit': async (desk, input) => {
    const { book } = await desk.book();
    const machine = await machineOf(desk, input);
    return viewFits(desk, await fitsFor(desk, machine, kindsAsked(book, input)));
  },
  'parts.get': async (desk, { partNumber }) => getPart(desk, partNumber),
  'vehicles.decode': async (desk, { vin }) => {
    const read = decodeVin(vin, new Date(desk.now().ms).getUTCFullYear() + 1);
    return { ...read, years: [...read.years], notes: [...read.notes] };
  },
} satisfies Group<'parts.find' | 'parts.fit' | 'parts.get' | 'vehicles.decode'>;

/** Kinds of part that repairs of a component ask for. */
function kindsOfComponent(book: Book, componentId: string): string[] {
  const kinds = new Set<string>();
  for (const cause of book.causes.values())
    if (cause.componentId === componentId) for (const need of cause.repair.parts) kinds.add(need.kind);
  return [...kinds];
}

/** @throws Problem bad-input, not-found naming the field */
function kindsAsked(
  book: Book,
  asked: { kind?: string | undefined; component?: string | undefined },
): string[] {
  if ((asked.kind === undefined) === (asked.component === undefined))
    throw new Problem('bad-input', 'Give either kind or component.', { field: 'kind' });
  if (asked.kind !== undefined) {
    if (!book.partKinds.has(asked.kind))
      throw new Problem('not-found', `The book has no part kind ${quoted(asked.kind)}.`, {
        field: 'kind',
        id: asked.kind,
      });
    return [asked.kind];
  }
  const component = asked.component as string;
  if (!book.components.has(component))
    throw new Problem('not-found', `The book has no component ${quoted(component)}.`, {
      field: 'component',
      id: component,
    });
  return kindsOfComponent(book, component);
}

/** The machine that is asked about: a known vehicle, or a model with year and frame number. */
async function machineOf(desk: Desk, input: ParsedInputOf<'parts.fit'>): Promise<Machine> {
  const { book } = await desk.book();
  if ((input.vehicleId === undefined) === (input.modelId === undefined))
    throw new Problem('bad-input', 'Give either vehicleId or modelId.', { field: 'vehicleId' });
  if (input.modelId !== undefined) {
    const model = modelOr404(book.models, input.modelId);
    return {
      modelId: model.id,
      familyId: model.familyId,
      year: input.year ?? null,
      frame: input.frame || null,
    };
  }
  const vehicle = await vehicleOr404(desk, input.vehicleId as string);
  if (vehicle.model_id === null)
    throw new Problem(
      'bad-input',
      'vehicleId: this vehicle has no model of the book; choose its model first.',
      {
        field: 'vehicleId',
        id: vehicle.id,
      },
    );
  return {
    modelId: vehicle.model_id,
    familyId: book.models.get(vehicle.model_id as ModelId)?.familyId ?? null,
    year: input.year ?? vehicle.year,
    frame: input.frame || vehicle.frame,
  };
}

/** Parts of some kinds judged for a machine. */
export async function fitsFor(desk: Desk, machine: Machine, kinds: readonly string[]) {
  const wanted = new Set(kinds);
  const ofKinds = await partsOfKinds(desk.db, kinds);
  const fitments = (await fitmentsFor(desk.db, machine.modelId, machine.familyId)).map(fitmentOf);
  const links = (await allSupersessions(desk.db)).map(supersessionOf);
  const catalog = new Map(ofKinds.map((row) => [row.id, partOf(row)]));
  const linked = links.flatMap((link) => [link.oldId, link.newId]).filter((id) => !catalog.has(id));
  const tied = await partsByIds(desk.db, linked);
  for (const row of tied) catalog.set(row.id, partOf(row));
  const groups = await groupsOf(
    desk.db,
    ofKinds.map((row) => row.id),
  );
  const answer = fitParts(
    {
      parts: catalog,
      fitments,
      supersessions: links,
      groups: new Map(groups.map((row) => [row.part_id, row.group_id])),
    },
    machine,
    (part) => wanted.has(part.kind),
  );
  // What the shop no longer uses still leads to what replaces it, but is not offered.
  const retired = new Set(
    [...ofKinds, ...tied].filter((row) => row.retired_ms !== null).map((row) => row.id),
  );
  const inUse = ({ part }: { part: Part }): boolean => !retired.has(part.id);
  return { fits: answer.fits.filter(inUse), nearMisses: answer.nearMisses.filter(inUse) };
}

async function viewFits(
  desk: Desk,
  answer: Awaited<ReturnType<typeof fitsFor>>,
): Promise<OutputOf<'parts.fit'>> {
  const side = await shopSide(desk, [
    ...answer.fits.map((fit) => fit.part.id),
    ...answer.nearMisses.map((miss) => miss.part.id),
  ]);
  const shown = (id: string) => ({ price: side.prices(id)[0] ?? null, stock: side.stock(id) });
  const named = ({ part }: { part: Fit['part'] }) => ({
    partNumber: part.number,
    title: part.title,
    maker: part.maker,
  });
  return {
    fits: answer.fits.map((fit) => ({
      ...named(fit),
      certainty: fit.certainty,
      why: fit.why,
      quantity: fit.quantity,
      position: fit.position,
      attributes: fit.attributes.map(({ name, required, offered, margin }) => ({
        name,
        required,
        offered,
        margin,
      })),
      ...shown(fit.part.id),
    })),
    nearMisses: answer.nearMisses.map((miss) => ({
      ...named(miss),
      whyNot: miss.whyNot,
      attributes: miss.attributes.map(({ name, required, offered, margin, fits }) => ({
        name,
        required,
        offered,
        margin,
        fits,
      })),
      ...shown(miss.part.id),
    })),
  };
}

/** A number that no catalog entry has, as it stands in the price lists. */
async function onlyPriced(
  desk: Desk,
  rows: readonly { part_id: string; number: string; title: string }[],
): Promise<PartView[]> {
  const side = await shopSide(
    desk,
    rows.map((row) => row.part_id),
  );
  return rows.map((row) => ({
    partNumber: row.number,
    title: row.title,
    kind: null,
    componentId: null,
    maker: null,
    attributes: {},
    gtin: null,
    prices: side.prices(row.part_id),
    stock: null,
    retired: false,
    replacedBy: [],
  }));
}

export async function findParts(
  desk: Desk,
  input: ParsedInputOf<'parts.find'>,
): Promise<OutputOf<'parts.find'>> {
  const { book } = await desk.book();
  const most = input.limit ?? defaultLimit;
  const kinds =
    input.kind === undefined && input.component === undefined ? undefined : kindsAsked(book, input);
  if (input.text === '' && kinds === undefined && input.modelId === undefined)
    throw new Problem('bad-input', 'text: type a number or words, or choose a kind or component.', {
      field: 'text',
    });
  const isCode = /\d/.test(input.text);
  const gtin = /^\d[\d\s-]{6,17}$/.test(input.text) ? readGtin(input.text) : null;
  const found = new Map<string, PartRow>();
  const add = (rows: readonly PartRow[]): void => {
    for (const row of rows) found.set(row.id, found.get(row.id) ?? row);
  };
  // A filter thins out what was found, so more is loaded than shown.
  const wide = Math.max(most * 5, 500);
  if (gtin?.ok) {
    add(await partsByGtin(desk.db, gtin.gtin14));
    // A supplier's list may know the barcode of a part where the catalog does not.
    const listed = await pricedByNumber(desk.db, { gtin14: gtin.gtin14 }, most);
    const ids = listed.map((row) => row.part_id);
    add(await partsByIds(desk.db, ids));
  }
  const keys = keysFor(input.text);
  if (isCode && keys.length > 0) add(await partsByNumber(desk.db, keys, wide));
  const byNumber = new Set(found.keys());
  if (!gtin?.ok) add(await partsByWords(desk.db, input.text, { kinds }, wide));
  const fitting = input.modelId === undefined ? null : await listedFor(desk, input.modelId);
  const asked = Object.entries(input.attributes ?? {});
  // A number comes before words, the very thing before what is only named after it; what is out of use comes last.
  const rank = (row: PartRow): number =>
    (row.retired_ms === null ? 0 : 10) + (byNumber.has(row.id) ? 0 : 1 + closeness(input.text, row));
  const rows = [...found.values()]
    .filter((row) => kinds === undefined || kinds.includes(row.kind))
    .filter((row) => fitting === null || fitting.has(row.id))
    .filter((row) => {
      if (asked.length === 0) return true;
      const { attributes } = partOf(row);
      return asked.every(
        ([name, value]) => String(attributes[name] ?? '').toLowerCase() === String(value).toLowerCase(),
      );
    })
    .sort((one, other) => rank(one) - rank(other))
    .slice(0, most);
  const views = await viewParts(desk, rows);
  const room = most - views.length;
  if (room > 0 && kinds === undefined && fitting === null && asked.length === 0) {
    const by = gtin?.ok ? { gtin14: gtin.gtin14 } : isCode && keys.length > 0 ? { keys } : null;
    const priced = by ? await pricedByNumber(desk.db, by, most) : [];
    if (!gtin?.ok && priced.length < room) {
      const known = new Set(priced.map((row) => row.part_id));
      for (const row of await pricedByWords(desk.db, input.text, most))
        if (!known.has(row.part_id)) priced.push(row);
    }
    const lacking = priced.filter((row) => !found.has(row.part_id));
    views.push(...(await onlyPriced(desk, lacking.slice(0, room))));
  }
  return { parts: views, note: gtin && !gtin.ok && views.length === 0 ? `No such part; ${gtin.why}.` : null };
}

/** Ids of the parts listed for a model or its engine family. */
async function listedFor(desk: Desk, modelId: string): Promise<Set<string>> {
  const { book } = await desk.book();
  const model = modelOr404(book.models, modelId);
  return new Set((await fitmentsFor(desk.db, model.id, model.familyId)).map((row) => row.part_id));
}

/** @throws Problem not-found naming the number */
export async function partOr404(desk: Desk, partNumber: string, field = 'partNumber'): Promise<PartRow> {
  const [row] = await partsByIds(desk.db, [partKey(partNumber)]);
  if (!row)
    throw new Problem('not-found', `The catalog has no part ${quoted(partNumber)}.`, {
      field,
      id: partNumber,
    });
  return row;
}

async function getPart(desk: Desk, partNumber: string): Promise<OutputOf<'parts.get'>> {
  const { book } = await desk.book();
  const row = await partOr404(desk, partNumber);
  const [part] = await viewParts(desk, [row]);
  const links = (await allSupersessions(desk.db)).map(supersessionOf);
  const equal = (await groupsOf(desk.db, [row.id])).map((one) => one.part_id).filter((id) => id !== row.id);
  const side = await shopSide(desk, [row.id]);
  const chains = replacedBy(row.id, links);
  const printed = await printedNumbers(desk, chains.flat());
  return {
    part: part as PartView,
    fitments: (await fitmentsOf(desk.db, row.id)).map((one) => ({
      modelId: one.model_id,
      familyId: one.family_id,
      machine: machineTitle(book, one.model_id, one.family_id),
      years: { from: one.year_from, to: one.year_to },
      frames: { from: one.frame_from, to: one.frame_to },
      position: one.position,
      note: one.note,
      basis: one.basis,
    })),
    replaces: chains.map((chain) => chain.map(printed)),
    equalParts: (await partsByIds(desk.db, equal)).map((one) => one.number),
    priceHistory: side.history(row.id),
  };
}
