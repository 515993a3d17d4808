import { partKey } from '../parts/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  addArrived,
  findHeld,
  findOrder,
  findSupplier,
  foldAll,
  type HeldPartRow,
  heldByJob,
  insertMove,
  insertOrder,
  insertPart,
  listHeld,
  listOrders,
  lowStock,
  neverChanged,
  onShelf,
  type PartOrderRow,
  type PartRow,
  partsByIds,
  partsOfJob,
  pricedByNumber,
  type StockMoveRow,
  type StockRow,
  saveHeld,
  saveStock,
  stockOf,
  stockRow,
  updateJob,
  wasMade,
} from '../store/index.ts';
import { claimAsks } from './claims.ts';
import type {
  HeldPartView,
  OutputOf,
  ParsedInputOf,
  PartOrderView,
  PartStock,
  StockView,
} from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { fromIso, isoOrNull, toIso } from './instants.ts';
import { cardOr404 } from './job-card.ts';
import { refuseRetired } from './out-of-use.ts';
import { stockView } from './part-views.ts';
import { partOr404 } from './parts.ts';

type MoveInput = ParsedInputOf<'stock.use'>;

export const stock = {
  'stock.reserve': async (desk, input) =>
    moving(desk, input, 'reserve', (row, free) => {
      if (input.quantity > free) throw tooFew(input, free, 'free');
      return { ...row, reserved: row.reserved + input.quantity };
    }),
  'stock.release': async (desk, input) =>
    moving(desk, input, 'release', (row, _free, own) => {
      if (input.quantity > own.reserved) throw tooFew(input, own.reserved, 'reserved for this job');
      return { ...row, reserved: row.reserved - input.quantity };
    }),
  'stock.use': async (desk, input) =>
    moving(desk, input, 'use', (row, free, own) => {
      const fromReserve = Math.min(own.reserved, input.quantity);
      if (input.quantity > free + own.reserved)
        throw tooFew(input, free + own.reserved, 'free or reserved for this job');
      return { ...row, on_hand: row.on_hand - input.quantity, reserved: row.reserved - fromReserve };
    }),
  'stock.return': async (desk, input) =>
    moving(desk, input, 'return', (row, _free, own) => {
      if (input.quantity > own.used) throw tooFew(input, own.used, 'taken for this job');
      return { ...row, on_hand: row.on_hand + input.quantity };
    }),
  'stock.count': async (desk, input) => countStock(desk, input),
  'stock.order': async (desk, input) => orderParts(desk, input),
  'stock.arrive': async (desk, input) => bookIn(desk, input),
  'stock.hold': async (desk, input) => holdPart(desk, input),
  'stock.list': async (desk, input) => listStock(desk, input),
} satisfies Omit<Group<'stock.'>, 'stock.claim'>;

const tooFew = (input: { partNumber: string; quantity: number }, there: number, what: string): Problem =>
  new Problem(
    'not-allowed-now',
    `quantity: ${input.quantity} of ${input.partNumber} were asked for, ${there} ${there === 1 ? 'is' : 'are'} ${what}.`,
    { field: 'quantity' },
  );

/** A part of the catalog; one that only stands in a price list is taken into the catalog. */
async function partFor(desk: Desk, partNumber: string): Promise<PartRow> {
  const id = partKey(partNumber);
  const [known] = await partsByIds(desk.db, [id]);
  if (known) return known;
  const priced = (await pricedByNumber(desk.db, { keys: [id] }, 5)).find((row) => row.part_id === id);
  if (!priced) return partOr404(desk, partNumber);
  const row: PartRow = {
    id,
    number: priced.number,
    title: priced.title || priced.number,
    kind: 'unsorted',
    component_id: null,
    maker: '',
    attributes: '{}',
    gtin: null,
    folded: foldAll([priced.title], [id]),
    ...neverChanged,
  };
  await insertPart(desk.db, row);
  return row;
}

async function view(desk: Desk, part: PartRow, jobId: string | null): Promise<StockView> {
  return {
    partNumber: part.number,
    title: part.title,
    stock: stockView(await stockRow(desk.db, part.id)) as PartStock,
    job: jobId === null ? null : { jobId, ...(await heldByJob(desk.db, jobId, part.id)) },
  };
}

async function note(
  desk: Desk,
  id: string,
  move: Pick<StockMoveRow, 'part_id' | 'kind' | 'quantity'> & Partial<StockMoveRow>,
): Promise<void> {
  const now = desk.now();
  await insertMove(desk.db, {
    job_id: null,
    order_id: null,
    note: null,
    ...move,
    id,
    at_ms: now.ms,
    at_offset: now.offset,
  });
}

/** One move for a job: sent twice under one id it counts once. */
async function moving(
  desk: Desk,
  input: MoveInput,
  kind: 'reserve' | 'release' | 'use' | 'return',
  change: (row: StockRow, free: number, own: { reserved: number; used: number }) => StockRow,
): Promise<StockView> {
  const part = await partFor(desk, input.partNumber);
  if (input.moveId && (await wasMade(desk.db, input.moveId, `stock ${kind}`, input)))
    return view(desk, part, input.jobId);
  await cardOr404(desk, { id: input.jobId });
  const row = await stockRow(desk.db, part.id);
  const own = await heldByJob(desk.db, input.jobId, part.id);
  await saveStock(desk.db, change(row, row.on_hand - row.reserved, own));
  const base = { part_id: part.id, job_id: input.jobId };
  // What is used out of the reserve is no longer reserved.
  const fromReserve = kind === 'use' ? Math.min(own.reserved, input.quantity) : 0;
  if (fromReserve > 0) await note(desk, desk.newId(), { ...base, kind: 'release', quantity: fromReserve });
  await note(desk, input.moveId ?? desk.newId(), { ...base, kind, quantity: input.quantity });
  return view(desk, part, input.jobId);
}

async function countStock(desk: Desk, input: ParsedInputOf<'stock.count'>): Promise<StockView> {
  const part = await partFor(desk, input.partNumber);
  if (input.moveId && (await wasMade(desk.db, input.moveId, 'stock count', input)))
    return view(desk, part, null);
  const row = await stockRow(desk.db, part.id);
  if (input.onHand < row.reserved)
    throw new Problem(
      'not-allowed-now',
      `onHand: ${row.reserved} of ${part.number} are reserved for jobs, ${input.onHand} were counted; release some first.`,
      { field: 'onHand' },
    );
  await saveStock(desk.db, {
    ...row,
    on_hand: input.onHand,
    bin: input.bin === undefined ? row.bin : input.bin || null,
    minimum: input.minimum ?? row.minimum,
  });
  await note(desk, input.moveId ?? desk.newId(), {
    part_id: part.id,
    kind: 'count',
    quantity: input.onHand,
    note: `counted, ${row.on_hand} before`,
  });
  return view(desk, part, null);
}

async function orderParts(desk: Desk, input: ParsedInputOf<'stock.order'>): Promise<PartOrderView> {
  const orderId = input.orderId ?? desk.newId();
  if (input.orderId && (await wasMade(desk.db, input.orderId, 'part order', input)))
    return viewOrder(desk, await orderOr404(desk, orderId));
  await refuseRetired(desk, input.partNumber, input.evenRetired);
  const part = await partFor(desk, input.partNumber);
  if (!(await findSupplier(desk.db, input.supplierId)))
    throw new Problem(
      'not-found',
      `There is no supplier ${quoted(input.supplierId)}; parts.suppliers names them.`,
      {
        field: 'supplierId',
        id: input.supplierId,
      },
    );
  if (input.jobId) await cardOr404(desk, { id: input.jobId });
  const expected = input.expectedAt ? fromIso(input.expectedAt) : null;
  const now = desk.now();
  await insertOrder(desk.db, {
    id: orderId,
    part_id: part.id,
    supplier_id: input.supplierId,
    job_id: input.jobId ?? null,
    quantity: input.quantity,
    arrived: 0,
    expected_ms: expected?.ms ?? null,
    expected_offset: expected?.offset ?? null,
    made_ms: now.ms,
    made_offset: now.offset,
  });
  const row = await stockRow(desk.db, part.id);
  await saveStock(desk.db, { ...row, on_order: row.on_order + input.quantity });
  await note(desk, desk.newId(), {
    part_id: part.id,
    job_id: input.jobId ?? null,
    order_id: orderId,
    kind: 'order',
    quantity: input.quantity,
  });
  return viewOrder(desk, await orderOr404(desk, orderId));
}

async function orderOr404(desk: Desk, orderId: string): Promise<PartOrderRow> {
  const row = await findOrder(desk.db, orderId);
  if (!row)
    throw new Problem('not-found', `There is no order ${quoted(orderId)}.`, {
      field: 'orderId',
      id: orderId,
    });
  return row;
}

async function bookIn(desk: Desk, input: ParsedInputOf<'stock.arrive'>): Promise<OutputOf<'stock.arrive'>> {
  const order = await orderOr404(desk, input.orderId);
  const part = (await partsByIds(desk.db, [order.part_id]))[0] as PartRow;
  const answer = async (jobGoesOn: boolean) => ({
    order: await viewOrder(desk, await orderOr404(desk, order.id)),
    stock: await view(desk, part, order.job_id),
    jobGoesOn,
  });
  if (input.moveId && (await wasMade(desk.db, input.moveId, 'stock arrive', input))) return answer(false);
  const open = order.quantity - order.arrived;
  if (input.quantity > open)
    throw tooFew({ partNumber: part.number, quantity: input.quantity }, open, 'still on order');
  await addArrived(desk.db, order.id, input.quantity);
  const row = await stockRow(desk.db, part.id);
  await saveStock(desk.db, {
    ...row,
    on_hand: row.on_hand + input.quantity,
    on_order: row.on_order - input.quantity,
    reserved: row.reserved + (order.job_id === null ? 0 : input.quantity),
  });
  const base = { part_id: part.id, job_id: order.job_id, order_id: order.id, quantity: input.quantity };
  await note(desk, input.moveId ?? desk.newId(), { ...base, kind: 'arrive' });
  if (order.job_id === null) return answer(false);
  await note(desk, desk.newId(), { ...base, kind: 'reserve' });
  const card = await cardOr404(desk, { id: order.job_id });
  const missing = (await listOrders(desk.db, order.job_id, 500)).some((one) => one.arrived < one.quantity);
  const goesOn = card.job.status === 'waiting-for-parts' && !missing;
  await updateJob(desk.db, card.job.id, card.job.version, goesOn ? { status: 'in-work' } : {});
  return answer(goesOn);
}

async function holdPart(desk: Desk, input: ParsedInputOf<'stock.hold'>): Promise<HeldPartView> {
  const part = await partFor(desk, input.partNumber);
  await cardOr404(desk, { id: input.jobId });
  if (input.supplierId !== undefined && !(await findSupplier(desk.db, input.supplierId)))
    throw new Problem('not-found', `There is no supplier ${quoted(input.supplierId)}.`, {
      field: 'supplierId',
    });
  const now = desk.now();
  const before = input.heldId ? await findHeld(desk.db, input.heldId) : undefined;
  if (before && (before.job_id !== input.jobId || before.part_id !== part.id))
    throw new Problem('conflict', 'heldId: this id already stands for another old part.', {
      field: 'heldId',
    });
  const row: HeldPartRow = {
    id: input.heldId ?? desk.newId(),
    job_id: input.jobId,
    part_id: part.id,
    supplier_id: input.supplierId ?? before?.supplier_id ?? null,
    why: input.why,
    words: input.words,
    state: input.state ?? before?.state ?? 'held',
    made_ms: before?.made_ms ?? now.ms,
    made_offset: before?.made_offset ?? now.offset,
  };
  await saveHeld(desk.db, row);
  return viewHeld(desk, row);
}

async function viewOrder(desk: Desk, row: PartOrderRow): Promise<PartOrderView> {
  const [part] = await partsByIds(desk.db, [row.part_id]);
  return {
    orderId: row.id,
    partNumber: part?.number ?? row.part_id,
    title: part?.title ?? '',
    supplier: (await findSupplier(desk.db, row.supplier_id))?.name ?? row.supplier_id,
    jobId: row.job_id,
    jobNumber: row.job_id === null ? null : (await cardOr404(desk, { id: row.job_id })).job.number,
    quantity: row.quantity,
    arrived: row.arrived,
    expectedAt: isoOrNull(row.expected_ms, row.expected_offset),
    madeAt: toIso(row.made_ms, row.made_offset),
  };
}

async function viewHeld(desk: Desk, row: HeldPartRow): Promise<HeldPartView> {
  const [part] = await partsByIds(desk.db, [row.part_id]);
  const card = await cardOr404(desk, { id: row.job_id });
  const supplier = row.supplier_id
    ? ((await findSupplier(desk.db, row.supplier_id))?.name ?? row.supplier_id)
    : null;
  const date = toIso(row.made_ms, row.made_offset).slice(0, 10);
  return {
    heldId: row.id,
    jobId: row.job_id,
    jobNumber: card.job.number,
    partNumber: part?.number ?? row.part_id,
    title: part?.title ?? '',
    supplierId: row.supplier_id,
    supplier,
    why: row.why,
    words: row.words,
    state: row.state,
    madeAt: toIso(row.made_ms, row.made_offset),
    claimWords: [
      `To: ${supplier ?? 'the supplier'}`,
      `Part: ${part?.number ?? row.part_id}, ${part?.title ?? ''}`,
      `Our job: ${card.job.number}, part taken off on ${date}${card.job.mileage_km === null ? '' : `, at ${card.job.mileage_km} km`}`,
      `What we found: ${row.words}`,
      claimAsks(row.why),
    ].join('\n'),
  };
}

async function listStock(desk: Desk, input: ParsedInputOf<'stock.list'>): Promise<OutputOf<'stock.list'>> {
  const most = input.limit ?? 100;
  const ids = input.jobId
    ? await partsOfJob(desk.db, input.jobId)
    : (input.low ? await lowStock(desk.db, most) : await onShelf(desk.db, most)).map((row) => row.part_id);
  const rows = new Map((await stockOf(desk.db, ids)).map((row) => [row.part_id, row]));
  const parts: StockView[] = [];
  for (const part of await partsByIds(desk.db, ids)) {
    const jobId = input.jobId ?? null;
    parts.push({
      partNumber: part.number,
      title: part.title,
      stock: stockView(rows.get(part.id) ?? (await stockRow(desk.db, part.id))) as PartStock,
      job: jobId === null ? null : { jobId, ...(await heldByJob(desk.db, jobId, part.id)) },
    });
  }
  return {
    parts,
    orders: await Promise.all(
      (await listOrders(desk.db, input.jobId, most)).map((row) => viewOrder(desk, row)),
    ),
    held: await Promise.all((await listHeld(desk.db, input.jobId, most)).map((row) => viewHeld(desk, row))),
  };
}
