import {
  contradiction,
  frameRangeFault,
  neverInstead,
  partKey,
  refuseCircle,
  type Supersession,
} from '../parts/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  allSupersessions,
  type FitmentRow,
  findFitment,
  fitmentsOf,
  groupsOf,
  insertHandPrice,
  keepSupplier,
  leaveGroup,
  type PartRow,
  partsByIds,
  removeFitment,
  saveFitment,
  setGroup,
  setReplacement,
  touchPart,
} from '../store/index.ts';
import type { FamilyId } from '../terms.ts';
import type { ParsedInputOf, PartCard } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { badField, changed, noteChange, partAt, viewCard } from './part-card.ts';
import { machineTitle, partOf, printedNumbers, supersessionOf } from './part-views.ts';
import { partOr404 } from './parts.ts';
import { modelOr404 } from './people.ts';
import { slugOf } from './price-lists.ts';
import { readShopSettings } from './settings.ts';

/** What ties a part to machines, to other parts and to suppliers. */
export const catalogTies = {
  'parts.saveFitment': async (desk, input) => putFitment(desk, input),
  'parts.removeFitment': async (desk, input) => {
    const row = await partAt(desk, input.partNumber, input.ifVersion);
    const fitment = await findFitment(desk.db, input.fitmentId);
    if (!fitment || fitment.part_id !== row.id)
      throw new Problem('not-found', `fitmentId: ${row.number} has no fitment ${quoted(input.fitmentId)}.`, {
        field: 'fitmentId',
        id: input.fitmentId,
      });
    await removeFitment(desk.db, fitment.id);
    await changed(desk, row, { who: input.who, what: `no longer fits ${await fitmentWords(desk, fitment)}` });
    return viewCard(desk, row.number);
  },
  'parts.replace': async (desk, input) => replacePart(desk, input),
  'parts.equal': async (desk, input) => groupPart(desk, input),
  'parts.setPrice': async (desk, input) => setPrice(desk, input),
} satisfies Pick<
  Group<'parts.'>,
  'parts.saveFitment' | 'parts.removeFitment' | 'parts.replace' | 'parts.equal' | 'parts.setPrice'
>;

const span = (from: number | string | null, to: number | string | null, what: string): string =>
  from === null && to === null ? '' : `, ${what} ${from ?? '…'} to ${to ?? '…'}`;

async function fitmentWords(desk: Desk, row: FitmentRow): Promise<string> {
  const { book } = await desk.book();
  return `${machineTitle(book, row.model_id, row.family_id)}${span(row.year_from, row.year_to, 'years')}${span(row.frame_from, row.frame_to, 'frames')}${row.position ? `, ${row.position}` : ''}`;
}

async function putFitment(desk: Desk, input: ParsedInputOf<'parts.saveFitment'>): Promise<PartCard> {
  const part = await partAt(desk, input.partNumber, input.ifVersion);
  const { book } = await desk.book();
  const modelId = input.modelId ?? null;
  const familyId = input.familyId ?? null;
  if ((modelId === null) === (familyId === null))
    throw badField('modelId', 'give either a model or an engine family');
  if (familyId !== null && !book.families.has(familyId as FamilyId))
    throw new Problem('not-found', `familyId: the book has no engine family ${quoted(familyId)}.`, {
      field: 'familyId',
      id: familyId,
    });
  const model = modelId === null ? null : modelOr404(book.models, modelId);
  const years = input.years ?? { from: null, to: null };
  if (years.from !== null && years.to !== null && years.from > years.to)
    throw badField('years.to', `${years.to} is before ${years.from}`);
  if (model && ((years.to ?? 9999) < model.years.from || (years.from ?? 0) > model.years.to))
    throw badField(
      years.from === null ? 'years.to' : 'years.from',
      `the ${model.name} was built from ${model.years.from} to ${model.years.to}`,
    );
  const frames = input.frames ?? { from: null, to: null };
  const fault = frameRangeFault(frames.from, frames.to);
  if (fault) throw badField(frames.from === null ? 'frames.to' : 'frames.from', fault);
  if (input.basis.kind === 'published' && !input.basis.source?.trim())
    throw badField('basis.source', 'a published fitment names where it stands: title and section');
  const before = input.fitmentId === undefined ? undefined : await findFitment(desk.db, input.fitmentId);
  if (before && before.part_id !== part.id)
    throw new Problem('conflict', 'fitmentId: this id already stands for a fitment of another part.', {
      field: 'fitmentId',
    });
  const row: FitmentRow = {
    id: input.fitmentId ?? desk.newId(),
    part_id: part.id,
    model_id: modelId,
    family_id: familyId,
    year_from: years.from,
    year_to: years.to,
    frame_from: frames.from,
    frame_to: frames.to,
    position: input.position || null,
    note: input.note || null,
    basis: input.basis.source?.trim()
      ? `${input.basis.kind}: ${input.basis.source.trim()}`
      : input.basis.kind,
  };
  const same = (one: FitmentRow): boolean =>
    one.id !== row.id &&
    (['model_id', 'family_id', 'year_from', 'year_to', 'frame_from', 'frame_to', 'position'] as const).every(
      (name) => one[name] === row[name],
    );
  if ((await fitmentsOf(desk.db, part.id)).some(same))
    throw badField('modelId', `that ${part.number} fits ${await fitmentWords(desk, row)} is said already`);
  await saveFitment(desk.db, row);
  const now = await fitmentWords(desk, row);
  const what = before ? `fits ${now}, before: ${await fitmentWords(desk, before)}` : `fits ${now}`;
  await changed(desk, part, { who: input.who, what });
  return viewCard(desk, part.number);
}

async function replacePart(desk: Desk, input: ParsedInputOf<'parts.replace'>): Promise<PartCard> {
  const part = await partAt(desk, input.partNumber, input.ifVersion);
  const all = (await allSupersessions(desk.db)).map(supersessionOf);
  const others = all.filter((link) => link.oldId !== part.id);
  const next: PartRow[] = [];
  for (const [place, one] of input.by.entries())
    next.push(await partOr404(desk, one.partNumber, `by[${place}].partNumber`));
  const printed = await printedNumbers(desk, [
    ...all.flatMap((link) => [link.oldId, link.newId]),
    part.id,
    ...next.map((row) => row.id),
  ]);
  const links: Supersession[] = [];
  for (const [place, row] of next.entries()) {
    const field = `by[${place}].partNumber`;
    if (links.some((link) => link.newId === row.id))
      throw badField(field, `${row.number} stands here twice; write how many instead`);
    const never = neverInstead(partOf(part), partOf(row));
    if (never) throw badField(field, `${row.number} cannot replace ${part.number}: ${never}`);
    const link: Supersession = {
      oldId: part.id,
      newId: row.id,
      quantity: input.by[place]?.quantity ?? 1,
      note: input.by[place]?.note || null,
    };
    try {
      refuseCircle(link, others, printed);
    } catch (error) {
      throw error instanceof Problem
        ? new Problem(error.code, error.message, { field, id: row.number })
        : error;
    }
    links.push(link);
  }
  await setReplacement(desk.db, part.id, links);
  const what =
    links.length === 0
      ? 'nothing replaces it'
      : `replaced by ${links.map((link) => `${link.quantity > 1 ? `${link.quantity} × ` : ''}${printed(link.newId)}`).join(' and ')}`;
  await changed(desk, part, { who: input.who, what });
  return viewCard(desk, part.number);
}

async function groupPart(desk: Desk, input: ParsedInputOf<'parts.equal'>): Promise<PartCard> {
  const part = await partAt(desk, input.partNumber, input.ifVersion);
  const own = await groupsOf(desk.db, [part.id]);
  if (input.to === null) {
    await leaveGroup(desk.db, part.id);
    // A group of one says nothing.
    const left = own.filter((row) => row.part_id !== part.id);
    if (left.length === 1) await leaveGroup(desk.db, left[0]?.part_id as string);
    for (const row of left) await touchPart(desk.db, row.part_id);
    await changed(desk, part, { who: input.who, what: 'taken out of its group of equal parts' });
    return viewCard(desk, part.number);
  }
  const other = await partOr404(desk, input.to, 'to');
  if (other.id === part.id) throw badField('to', `${part.number} is equal to itself anyway`);
  const theirs = await groupsOf(desk.db, [other.id]);
  const members = await partsByIds(desk.db, [...[...own, ...theirs].map((row) => row.part_id), other.id]);
  // Two groups become one, so every part of it must agree with every other.
  const all = [part, ...members.filter((row) => row.id !== part.id)].map(partOf);
  for (const [place, one] of all.entries())
    for (const against of all.slice(place + 1)) {
      const why = contradiction(one, against);
      if (why) throw badField('to', `these are not equal: ${why}`);
    }
  const group = theirs[0]?.group_id ?? own[0]?.group_id ?? `ic-${other.id}`;
  await setGroup(
    desk.db,
    all.map((one) => one.id),
    group,
  );
  const words = `equal to ${other.number}`;
  for (const one of all)
    if (one.id !== part.id) {
      await touchPart(desk.db, one.id);
      await noteChange(desk, one.id, { who: input.who, what: `equal to ${part.number}` });
    }
  await changed(desk, part, { who: input.who, what: words });
  return viewCard(desk, part.number);
}

async function setPrice(desk: Desk, input: ParsedInputOf<'parts.setPrice'>): Promise<PartCard> {
  const part = await partAt(desk, input.partNumber, input.ifVersion);
  const supplierId = slugOf(input.supplier);
  if (supplierId === '') throw badField('supplier', 'a name with letters or digits was expected');
  if (Number(input.price) === 0) throw badField('price', '0 is no price');
  const currency = input.currency ?? (await readShopSettings(desk.db)).currency;
  await keepSupplier(desk.db, supplierId, input.supplier);
  const now = desk.now();
  const core = input.core && Number(input.core) > 0 ? input.core : null;
  await insertHandPrice(
    desk.db,
    {
      part_id: partKey(part.number),
      supplier_id: supplierId,
      number: part.number,
      title: part.title,
      price: input.price,
      currency,
      cost: input.cost ?? null,
      core,
      gtin: part.gtin,
    },
    { ...now, who: input.who },
  );
  const deposit = core === null ? '' : `, ${core} for the old part`;
  await changed(desk, part, {
    who: input.who,
    what: `${input.supplier} asks ${input.price} ${currency}${deposit}`,
  });
  return viewCard(desk, part.number);
}
