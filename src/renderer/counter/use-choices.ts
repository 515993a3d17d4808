import type {
  CustomerView,
  JobRow,
  OutputOf,
  PartView,
  SymptomMatch,
  VehicleView,
} from '../../api/contract.ts';
import { client, queries } from '../session/client.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { emptyVehicle, type Intake, type IntakeVehicle, modelOf } from './intake.ts';

export type Choice = { readonly id: string } & (
  | { readonly kind: 'vehicle'; readonly vehicle: VehicleView }
  | { readonly kind: 'customer'; readonly customer: CustomerView }
  | { readonly kind: 'job'; readonly job: JobRow }
  | { readonly kind: 'part'; readonly part: PartView }
  | { readonly kind: 'new-vehicle'; readonly plate: string }
  | { readonly kind: 'symptom'; readonly match: SymptomMatch }
  | { readonly kind: 'words'; readonly words: string }
);

/** Short, with figures and few letters, as plates are. */
export const looksLikePlate = (text: string): boolean =>
  /^(?=.*\d)[\p{L}\d -]{2,10}$/u.test(text) && text.replaceAll(/[^\p{L}]/gu, '').length <= 4;

export const newVehicleOf = (plate: string, customer: CustomerView | null = null): IntakeVehicle => ({
  kind: 'new',
  customer,
  form: { ...emptyVehicle, plate: plate.toUpperCase() },
});

const folded = (text: string): string => text.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase();

/** Whether a name or plate, or one of its words, starts with what was typed: a match somewhere inside is weak. */
function isStrong(choice: Choice, typed: string): boolean {
  const names =
    choice.kind === 'vehicle'
      ? [choice.vehicle.plate, choice.vehicle.frame, choice.vehicle.customer?.name]
      : choice.kind === 'customer'
        ? [choice.customer.name, choice.customer.phone]
        : choice.kind === 'job'
          ? [choice.job.plate, choice.job.customer, String(choice.job.number)]
          : [];
  const start = folded(typed);
  if (start.length < 2) return false;
  return names.some((name) => ` ${folded(name ?? '')}`.includes(` ${start}`));
}

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

type People = OutputOf<'counter.find'>;
type Symptoms = OutputOf<'symptoms.find'>;

/** What is asked for a text; the same for a look while typing and for a taken entry, so that both share answers. */
const asks = (text: string, intake: Intake) => {
  const modelId = modelOf(intake.vehicle);
  const forModel = modelId ? { modelId } : {};
  return { people: { text, ...forModel }, symptoms: { text, ...forModel, limit: 6 } };
};

/** The choices on both sides for a text, the likeliest meaning first. */
function choicesOf(
  typed: string,
  intake: Intake,
  people: People | undefined,
  symptoms: Symptoms | undefined,
) {
  if (!typed) return { left: [], middle: [], choices: [] };
  const persons = people ? peopleChoices(people) : [];
  const wantsNew = intake.vehicle === null && !persons.some(({ kind }) => kind === 'vehicle');
  const parts: Choice[] = (people?.parts ?? [])
    .slice(0, people?.isPartNumber ? 6 : 3)
    .map((part) => ({ id: `p-${part.partNumber}`, kind: 'part', part }));
  // A whole number or a scanned barcode is that part, whatever else it could be.
  const isPart = people?.isPartNumber === true && !persons.some((choice) => isStrong(choice, typed));
  const left: Choice[] = isPart
    ? [...parts, ...persons]
    : wantsNew
      ? [
          ...persons,
          ...parts,
          { id: 'new-vehicle', kind: 'new-vehicle', plate: looksLikePlate(typed) ? typed : '' },
        ]
      : [...persons, ...parts];
  const middle: Choice[] = [
    ...(symptoms?.matches ?? []).map(
      (match): Choice => ({ id: `s-${match.symptomId}`, kind: 'symptom', match }),
    ),
    { id: 'words', kind: 'words', words: typed },
  ];
  const isNamed = persons.some((choice) => isStrong(choice, typed));
  const isOnlyPeople = persons.length > 0 && (symptoms?.matches.length ?? 0) === 0;
  if (isPart) return { left, middle, choices: [...left, ...middle] };
  const peopleFirst = intake.vehicle === null && (isNamed || isOnlyPeople || looksLikePlate(typed));
  return { left, middle, choices: peopleFirst ? [...left, ...middle] : [...middle, ...left] };
}

/** The likeliest meaning of a text that was entered faster than it could be looked up. */
export async function firstChoice(text: string, intake: Intake): Promise<Choice | undefined> {
  const ask = asks(text, intake);
  const [people, symptoms] = await Promise.all([
    queries.fetchQuery({
      queryKey: ['counter.find', ask.people],
      queryFn: () => client.call('counter.find', ask.people),
    }),
    queries.fetchQuery({
      queryKey: ['symptoms.find', ask.symptoms],
      queryFn: () => client.call('symptoms.find', ask.symptoms),
    }),
  ]);
  return choicesOf(text, intake, people, symptoms).choices[0];
}

/** Everything the one field could mean by what is typed: people and machines on one side, symptoms on the other. */
export function useChoices(text: string, intake: Intake) {
  const typed = text.trim();
  const asked = useDelayed(typed, 120);
  const ask = asks(asked, intake);
  const people = useRead('counter.find', asked ? ask.people : null, { keep: true });
  const symptoms = useRead('symptoms.find', asked ? ask.symptoms : null, { keep: true });
  const isFresh =
    typed === asked &&
    people.isSuccess &&
    symptoms.isSuccess &&
    !people.isPlaceholderData &&
    !symptoms.isPlaceholderData;
  return {
    typed,
    ...choicesOf(typed, intake, people.data, symptoms.data),
    isFresh,
    found: typed ? symptoms.data : undefined,
    problem: people.error ?? symptoms.error,
  };
}
