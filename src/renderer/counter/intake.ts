import type { CustomerView, InputOf, MoneyView, Reading, VehicleView } from '../../api/contract.ts';
import { newId } from '../session/new-id.ts';

/** One complaint line as it is taken in. */
export interface IntakeConcern {
  readonly concernId: string;
  readonly words: string;
  readonly symptomId: string | null;
  readonly symptom: string | null;
  readonly answers: readonly Answer[];
}
/** An answer given at the counter, with the words to show for it. */
export interface Answer {
  readonly title: string;
  readonly shows: string;
  readonly reading: Reading & { checkId: string };
}
export interface NewVehicleForm {
  readonly plate: string;
  readonly modelId: string | null;
  readonly modelWords: string;
  readonly year: string;
  readonly color: string;
  readonly frame: string;
  readonly customerName: string;
  readonly customerPhone: string;
}
export type IntakeVehicle =
  | { readonly kind: 'known'; readonly vehicle: VehicleView }
  | { readonly kind: 'new'; readonly customer: CustomerView | null; readonly form: NewVehicleForm };

/** What is on the card before it is opened. */
export interface Intake {
  readonly jobId: string;
  readonly vehicle: IntakeVehicle | null;
  readonly concerns: readonly IntakeConcern[];
  readonly promiseAt: string | null;
  readonly mileage: string;
  readonly keyTag: string;
  readonly technician: string;
  /** The limit as it is typed, and as an amount where it is one. */
  readonly upTo: string;
  readonly diagnosisUpTo: MoneyView | null;
  readonly testRide: boolean;
  readonly oldPartsBack: boolean;
}

export const emptyVehicle: NewVehicleForm = {
  plate: '',
  modelId: null,
  modelWords: '',
  year: '',
  color: '',
  frame: '',
  customerName: '',
  customerPhone: '',
};

export const newIntake = (): Intake => ({
  jobId: newId(),
  vehicle: null,
  concerns: [],
  promiseAt: null,
  mileage: '',
  keyTag: '',
  technician: '',
  upTo: '',
  diagnosisUpTo: null,
  testRide: false,
  oldPartsBack: false,
});

export function modelOf(vehicle: IntakeVehicle | null): string | undefined {
  if (vehicle?.kind === 'known') return vehicle.vehicle.modelId ?? undefined;
  return vehicle?.form.modelId ?? undefined;
}

/** For whom a quote is where the vehicle was not entered yet: the customer and the plate as typed. */
export function wordsFor({ form, customer }: IntakeVehicle & { kind: 'new' }): string {
  return [customer?.name ?? form.customerName.trim(), form.plate.trim()].filter(Boolean).join(', ');
}

/** What the parts are told about the machine at the Counter, as search words of an address. */
export function whoseParts(vehicle: IntakeVehicle | null): Record<string, string> {
  const modelId = modelOf(vehicle);
  const known = vehicle?.kind === 'known' ? vehicle.vehicle.vehicleId : '';
  const words = vehicle?.kind === 'new' ? wordsFor(vehicle) : '';
  return {
    ...(modelId ? { model: modelId } : {}),
    ...(known ? { vehicle: known } : {}),
    ...(words ? { for: words } : {}),
  };
}

const wholeNumber = (text: string): number | undefined => {
  const digits = text.replaceAll(/[\s.,]/g, '');
  return /^\d{1,7}$/.test(digits) ? Number(digits) : undefined;
};

const filled = (text: string): string | undefined => (text.trim() === '' ? undefined : text.trim());

function vehicleInput(vehicle: IntakeVehicle | null): Partial<InputOf<'jobs.open'>> {
  if (!vehicle) return {};
  if (vehicle.kind === 'known') return { vehicleId: vehicle.vehicle.vehicleId };
  const { form, customer } = vehicle;
  const year = wholeNumber(form.year);
  const name = filled(form.customerName);
  return {
    vehicle: {
      ...(filled(form.plate) ? { plate: form.plate.trim() } : {}),
      ...(filled(form.frame) ? { frame: form.frame.trim() } : {}),
      ...(form.modelId ? { modelId: form.modelId } : {}),
      ...(!form.modelId && filled(form.modelWords) ? { modelWords: form.modelWords.trim() } : {}),
      ...(year ? { year } : {}),
      ...(filled(form.color) ? { color: form.color.trim() } : {}),
    },
    ...(customer ? { customerId: customer.customerId } : {}),
    ...(!customer && name
      ? { customer: { name, ...(filled(form.customerPhone) ? { phone: form.customerPhone.trim() } : {}) } }
      : {}),
  };
}

export const slipWords = {
  mileage: 'Whole kilometers, such as 18400.',
  upTo: 'An amount, such as 80 or 79.50.',
  year: 'A year, such as 2019.',
} as const;

/** Which fields hold something that cannot go onto a card as it is typed. */
export function slipsOf({ mileage, upTo, diagnosisUpTo, vehicle }: Intake): (keyof typeof slipWords)[] {
  const year = vehicle?.kind === 'new' ? vehicle.form.year : '';
  return [
    ...(filled(mileage) && wholeNumber(mileage) === undefined ? (['mileage'] as const) : []),
    ...(filled(upTo) && diagnosisUpTo === null ? (['upTo'] as const) : []),
    ...(filled(year) && !/^(19|20)\d\d$/.test(year.trim()) ? (['year'] as const) : []),
  ];
}

/** What `jobs.open` gets; answers of the first concern go with it, those of the others are recorded after. */
export function openInput(intake: Intake): InputOf<'jobs.open'> {
  const mileage = wholeNumber(intake.mileage);
  const [first] = intake.concerns;
  return {
    jobId: intake.jobId,
    ...vehicleInput(intake.vehicle),
    concerns: intake.concerns.map(({ concernId, words, symptomId }) => ({
      concernId,
      words,
      ...(symptomId ? { symptomId } : {}),
    })),
    status: 'checked-in',
    ...(intake.promiseAt ? { promiseAt: intake.promiseAt } : {}),
    ...(mileage === undefined ? {} : { mileage_km: mileage }),
    ...(filled(intake.keyTag) ? { keyTag: intake.keyTag.trim() } : {}),
    ...(filled(intake.technician) ? { technician: intake.technician } : {}),
    consent: {
      diagnosisUpTo: intake.diagnosisUpTo,
      testRide: intake.testRide,
      oldPartsBack: intake.oldPartsBack,
    },
    readings: first ? first.answers.map(({ reading }) => reading) : [],
  };
}
