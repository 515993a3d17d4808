import type { Model } from '../book/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  type CustomerRow,
  findCustomer,
  findVehicle,
  fold,
  foldAll,
  insertCustomer,
  insertVehicle,
  openAdvisoriesOf,
  searchCustomers,
  searchVehicles,
  updateCustomer,
  updateVehicle,
  type VehicleRow,
  vehiclesOf,
  wasMade,
} from '../store/index.ts';
import type { ModelId } from '../terms.ts';
import type { CustomerView, ModelView, VehicleView } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { advisoryView, customerView, modelView, vehicleView, visitsOf } from './views.ts';

export const people = {
  'vehicles.find': async (desk, { text, limit }) => ({
    vehicles: await viewVehicles(desk, await searchVehicles(desk.db, text, limit ?? 20)),
  }),
  'vehicles.get': async (desk, { vehicleId }) => {
    const row = await vehicleOr404(desk, vehicleId);
    const [vehicle] = await viewVehicles(desk, [row]);
    return {
      vehicle: vehicle as VehicleView,
      visits: await visitsOf(desk, vehicleId),
      advisories: (await openAdvisoriesOf(desk.db, vehicleId)).map(advisoryView),
    };
  },
  'vehicles.save': async (desk, input) => {
    const { ifVersion, customerId, ...fields } = input;
    if (ifVersion === undefined) return saveNewVehicle(desk, fields, customerId ?? null);
    if (!fields.vehicleId)
      throw new Problem('bad-input', 'ifVersion needs a vehicleId.', { field: 'vehicleId' });
    const before = await vehicleOr404(desk, fields.vehicleId);
    if (customerId) await customerOr404(desk, customerId);
    const row = await vehicleRow(
      desk,
      fields,
      before,
      customerId === undefined ? before.customer_id : customerId,
    );
    if (!(await updateVehicle(desk.db, row, ifVersion)))
      throw changedMeanwhile('vehicle', before.version, ifVersion);
    return viewVehicle(desk, row);
  },
  'customers.find': async (desk, { text, limit }) => ({
    customers: (await searchCustomers(desk.db, text, limit ?? 20)).map(customerView),
  }),
  'customers.get': async (desk, { customerId }) => {
    const row = await customerOr404(desk, customerId);
    return {
      customer: customerView(row),
      vehicles: await viewVehicles(desk, await vehiclesOf(desk.db, customerId)),
    };
  },
  'customers.save': async (desk, input) => {
    const { ifVersion, ...fields } = input;
    if (ifVersion === undefined) return customerView(await saveNewCustomer(desk, fields));
    if (!fields.customerId)
      throw new Problem('bad-input', 'ifVersion needs a customerId.', { field: 'customerId' });
    const before = await customerOr404(desk, fields.customerId);
    const row = customerRow(desk, fields, before);
    if (!(await updateCustomer(desk.db, row, ifVersion)))
      throw changedMeanwhile('customer', before.version, ifVersion);
    return customerView(row);
  },
  'models.list': async (desk, { text }) => {
    const { book } = await desk.book();
    const wanted = fold(text ?? '')
      .split(/\s+/)
      .filter(Boolean);
    const models = [...book.models.values()].filter((model) => {
      const words = fold([model.maker, model.name, ...model.aliases].join(' '));
      return wanted.every((word) => words.includes(word));
    });
    return { models: models.map((model) => modelView(book, model)) };
  },
  'models.get': async (desk, { modelId }): Promise<ModelView> => {
    const { book } = await desk.book();
    return modelView(book, modelOr404(book.models, modelId));
  },
} satisfies Omit<Group<'vehicles.' | 'customers.' | 'models.'>, 'vehicles.decode'>;

export function changedMeanwhile(what: string, present: number, ifVersion: number): Problem {
  return new Problem(
    'conflict',
    `This ${what} was changed meanwhile: you had version ${ifVersion}, it is now at ${present}.`,
    { field: 'ifVersion' },
  );
}

export function modelOr404(models: ReadonlyMap<ModelId, Model>, modelId: string, field = 'modelId'): Model {
  const model = models.get(modelId as ModelId);
  if (!model)
    throw new Problem('not-found', `The book has no model ${quoted(modelId)}; models.list names them.`, {
      field,
      id: modelId,
    });
  return model;
}

export async function vehicleOr404(desk: Desk, vehicleId: string): Promise<VehicleRow> {
  const row = await findVehicle(desk.db, vehicleId);
  if (!row)
    throw new Problem('not-found', `There is no vehicle ${quoted(vehicleId)}.`, {
      field: 'vehicleId',
      id: vehicleId,
    });
  return row;
}

async function customerOr404(desk: Desk, customerId: string): Promise<CustomerRow> {
  const row = await findCustomer(desk.db, customerId);
  if (!row)
    throw new Problem('not-found', `There is no customer ${quoted(customerId)}.`, {
      field: 'customerId',
      id: customerId,
    });
  return row;
}

type CustomerFields = { customerId?: string; name: string; phone?: string; email?: string; note?: string };
type VehicleFields = {
  vehicleId?: string;
  plate?: string;
  frame?: string;
  modelId?: string;
  modelWords?: string;
  year?: number;
  color?: string;
  mileage_km?: number;
};

/** What is not given stays as it was; an empty text clears it. */
const kept = <T>(given: T | undefined, before: T | null | undefined): T | null =>
  given === undefined ? (before ?? null) : given === '' ? null : given;

function customerRow(desk: Desk, fields: CustomerFields, before: CustomerRow | null): CustomerRow {
  const now = desk.now();
  const phone = kept(fields.phone, before?.phone);
  const email = kept(fields.email, before?.email);
  return {
    id: before?.id ?? fields.customerId ?? desk.newId(),
    version: (before?.version ?? 0) + 1,
    name: fields.name,
    phone,
    email,
    note: kept(fields.note, before?.note),
    folded: foldAll([fields.name, email], [phone]),
    made_ms: before?.made_ms ?? now.ms,
    made_offset: before?.made_offset ?? now.offset,
  };
}

export async function saveNewCustomer(desk: Desk, fields: CustomerFields): Promise<CustomerRow> {
  if (fields.customerId && (await wasMade(desk.db, fields.customerId, 'customer', fields)))
    return customerOr404(desk, fields.customerId);
  const row = customerRow(desk, fields, null);
  await insertCustomer(desk.db, row);
  return row;
}

async function vehicleRow(
  desk: Desk,
  fields: VehicleFields,
  before: VehicleRow | null,
  customerId: string | null,
): Promise<VehicleRow> {
  const { book } = await desk.book();
  const modelId = kept(fields.modelId, before?.model_id);
  const model = modelId === null ? null : modelOr404(book.models, modelId);
  const plate = kept(fields.plate, before?.plate);
  const frame = kept(fields.frame, before?.frame);
  const modelWords = kept(fields.modelWords, before?.model_words);
  const now = desk.now();
  return {
    id: before?.id ?? fields.vehicleId ?? desk.newId(),
    version: (before?.version ?? 0) + 1,
    customer_id: customerId,
    plate,
    frame,
    model_id: modelId,
    model_words: modelWords,
    year: kept(fields.year, before?.year),
    color: kept(fields.color, before?.color),
    mileage_km: kept(fields.mileage_km, before?.mileage_km),
    folded: foldAll([plate, model?.maker, model?.name, modelWords, frame], [plate, frame]),
    made_ms: before?.made_ms ?? now.ms,
    made_offset: before?.made_offset ?? now.offset,
  };
}

export async function saveNewVehicle(
  desk: Desk,
  fields: VehicleFields,
  customerId: string | null,
): Promise<VehicleView> {
  if (fields.vehicleId && (await wasMade(desk.db, fields.vehicleId, 'vehicle', { ...fields, customerId })))
    return viewVehicle(desk, await vehicleOr404(desk, fields.vehicleId));
  if (!fields.plate && !fields.frame && !fields.modelId && !fields.modelWords)
    throw new Problem(
      'bad-input',
      'vehicle: give a plate, a frame number or a model, so that it can be found again.',
      {
        field: 'vehicle',
      },
    );
  if (customerId) await customerOr404(desk, customerId);
  const row = await vehicleRow(desk, fields, null, customerId);
  await insertVehicle(desk.db, row);
  return viewVehicle(desk, row);
}

async function viewVehicle(desk: Desk, row: VehicleRow): Promise<VehicleView> {
  const { book } = await desk.book();
  const customer = row.customer_id ? await findCustomer(desk.db, row.customer_id) : undefined;
  return vehicleView(book, row, customer ? customerView(customer) : null);
}

export async function viewVehicles(desk: Desk, rows: readonly VehicleRow[]): Promise<VehicleView[]> {
  const views: VehicleView[] = [];
  for (const row of rows) views.push(await viewVehicle(desk, row));
  return views;
}

export type { CustomerView };
