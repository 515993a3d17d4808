import { z } from 'zod';
import { instant, limit, line, mileage_km, note, slug, uuid, version } from './basics.ts';
import { procedure } from './procedure.ts';

export const customer = z.strictObject({
  customerId: uuid,
  version,
  name: z.string(),
  phone: z.string().nullable(),
  email: z.string().nullable(),
  note: z.string().nullable(),
});
export const newCustomer = z.strictObject({
  customerId: uuid.optional(),
  name: line,
  phone: z.string().trim().max(40).optional(),
  email: z.string().trim().max(120).optional(),
  note: note.optional(),
});

export const vehicle = z.strictObject({
  vehicleId: uuid,
  version,
  plate: z.string().nullable(),
  frame: z.string().nullable(),
  modelId: slug.nullable(),
  /** Title of the model, or the words that were typed for it. */
  modelTitle: z.string(),
  year: z.int().nullable(),
  color: z.string().nullable(),
  mileage_km: mileage_km.nullable(),
  customer: customer.nullable(),
});
export const newVehicle = z.strictObject({
  vehicleId: uuid.optional(),
  plate: z.string().trim().max(20).optional(),
  /** Frame number or VIN. */
  frame: z.string().trim().max(30).optional(),
  modelId: slug.optional(),
  modelWords: z.string().trim().max(80).optional(),
  year: z.int().min(1920).max(2100).optional(),
  color: z.string().trim().max(40).optional(),
  mileage_km: mileage_km.optional(),
});

export const urgency = z.enum(['now', 'soon', 'watch']);
export const advisory = z.strictObject({
  advisoryId: uuid,
  jobId: uuid,
  jobNumber: z.int(),
  words: z.string(),
  urgency,
  doNotRide: z.boolean(),
  state: z.enum(['open', 'settled', 'declined']),
  madeAt: instant,
});

export const visit = z.strictObject({
  jobId: uuid,
  number: z.int(),
  openedAt: instant,
  status: z.string(),
  mileage_km: mileage_km.nullable(),
  concerns: z.array(
    z.strictObject({
      words: z.string(),
      symptom: z.string().nullable(),
      outcome: z.string(),
      /** Titles of the proven causes. */
      causes: z.array(z.string()),
      comeback: z.boolean(),
    }),
  ),
});

export const modelView = z.strictObject({
  modelId: slug,
  maker: z.string(),
  name: z.string(),
  title: z.string(),
  familyId: slug,
  family: z.string(),
  displacement_cm3: z.number(),
  years: z.strictObject({ from: z.int(), to: z.int() }),
  traits: z.record(z.string(), z.string()),
  circuitIds: z.array(slug),
});

export type CustomerView = z.infer<typeof customer>;
export type VehicleView = z.infer<typeof vehicle>;
export type AdvisoryView = z.infer<typeof advisory>;
export type VisitView = z.infer<typeof visit>;
export type ModelView = z.infer<typeof modelView>;

export const peopleProcedures = {
  'vehicles.find': procedure({
    kind: 'read',
    does: 'Finds vehicles by plate, frame number, customer name or phone; folds case, spaces and accents.',
    input: z.strictObject({ text: z.string().trim().min(1).max(200), limit: limit.optional() }),
    output: z.strictObject({ vehicles: z.array(vehicle) }),
  }),
  'vehicles.get': procedure({
    kind: 'read',
    does: 'One vehicle with its visits and open advisories.',
    input: z.strictObject({ vehicleId: uuid }),
    output: z.strictObject({ vehicle, visits: z.array(visit), advisories: z.array(advisory) }),
  }),
  'vehicles.save': procedure({
    kind: 'write',
    does: 'Makes a vehicle, or changes one (with ifVersion).',
    input: newVehicle.extend({ customerId: uuid.nullable().optional(), ifVersion: version.optional() }),
    output: vehicle,
  }),
  'customers.find': procedure({
    kind: 'read',
    does: 'Finds customers by name or phone.',
    input: z.strictObject({ text: z.string().trim().min(1).max(200), limit: limit.optional() }),
    output: z.strictObject({ customers: z.array(customer) }),
  }),
  'customers.get': procedure({
    kind: 'read',
    does: 'One customer with the vehicles.',
    input: z.strictObject({ customerId: uuid }),
    output: z.strictObject({ customer, vehicles: z.array(vehicle) }),
  }),
  'customers.save': procedure({
    kind: 'write',
    does: 'Makes a customer, or changes one (with ifVersion).',
    input: newCustomer.extend({ ifVersion: version.optional() }),
    output: customer,
  }),
  'models.list': procedure({
    kind: 'read',
    does: 'Lists the models of the book.',
    input: z.strictObject({ text: z.string().max(200).optional() }),
    output: z.strictObject({ models: z.array(modelView) }),
  }),
  'models.get': procedure({
    kind: 'read',
    does: 'One model of the book.',
    input: z.strictObject({ modelId: slug }),
    output: modelView,
  }),
} as const;
