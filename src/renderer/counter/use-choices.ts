import type { CustomerView, JobRow, OutputOf, SymptomMatch, VehicleView } from '../../api/contract.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { emptyVehicle, type Intake, type IntakeVehicle, modelOf } from './intake.ts';

export type Choice = { readonly id: string } & (
  | { readonly kind: 'vehicle'; readonly vehicle: VehicleView }
  | { readonly kind: 'customer'; readonly customer: CustomerView }
  | { readonly kind: 'job'; readonly job: JobRow }
  | { readonly kind: 'new-vehicle'; readonly plate: string }
  | { readonly kind: 'symptom'; readonly match: SymptomMatch }
  | { readonly kind: 'words'; readonly words: string }
);

/** Short, with figures and few letters, as plates are. */
const looksLikePlate = (text: string): boolean =>
  /^(?=.*\d)[\p{L}\d -]{2,10}$/u.test(text) && text.replaceAll(/[^\p{L}]/gu, '').length <= 4;

export const newVehicleOf = (plate: string, customer: CustomerView | null = null): IntakeVehicle => ({
  kind: 'new',
  customer,
  form: { ...emptyVehicle, plate: plate.toUpperCase() },
});

function peopleChoices(found: OutputOf<'counter.find'>): Choice[] {
  return [
    ...found.vehicles
      .slice(0, 6)
      .map((vehicle): Choice => ({ id: `v-${vehicle.vehicleId}`, kind: 'vehicle', vehicle })),
    ...found.customers
      .slice(0, 4)
      .map((customer): Choice => ({ id: `c-${customer.customerId}`, kind: 'customer', customer })),
    ...found.jobs
      .filter((job) => job.status !== 'collected')
      .slice(0, 4)
      .map((job): Choice => ({ id: `j-${job.jobId}`, kind: 'job', job })),
  ];
}

/** Everything the one field could mean by what is typed: people and machines on one side, symptoms on the other. */
export function useChoices(text: string, intake: Intake) {
  const typed = text.trim();
  const asked = useDelayed(typed, 120);
  const modelId = modelOf(intake.vehicle);
  const forModel = modelId ? { modelId } : {};
  const people = useRead('counter.find', asked ? { text: asked, ...forModel } : null, { keep: true });
  const symptoms = useRead('symptoms.find', asked ? { text: asked, ...forModel, limit: 6 } : null, {
    keep: true,
  });

  const isFresh =
    typed === asked &&
    !people.isFetching &&
    !symptoms.isFetching &&
    !people.isPlaceholderData &&
    !symptoms.isPlaceholderData;
  const persons = typed && people.data ? peopleChoices(people.data) : [];
  const wantsNew = typed !== '' && intake.vehicle === null && !persons.some(({ kind }) => kind === 'vehicle');
  const left: Choice[] = wantsNew
    ? [...persons, { id: 'new-vehicle', kind: 'new-vehicle', plate: looksLikePlate(typed) ? typed : '' }]
    : persons;
  const matches = typed && symptoms.data ? symptoms.data.matches : [];
  const middle: Choice[] = matches.map(
    (match): Choice => ({ id: `s-${match.symptomId}`, kind: 'symptom', match }),
  );
  if (typed) middle.push({ id: 'words', kind: 'words', words: typed });

  const peopleFirst = intake.vehicle === null && (persons.length > 0 || looksLikePlate(typed));
  return {
    typed,
    left,
    middle,
    choices: peopleFirst ? [...left, ...middle] : [...middle, ...left],
    isFresh,
    found: typed ? symptoms.data : undefined,
    problem: people.error ?? symptoms.error,
  };
}
