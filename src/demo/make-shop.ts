import type { Book, Cause, Model, Proof, Symptom } from '../book/index.ts';
import type { CauseId, SymptomId } from '../terms.ts';
import { createDice, type Dice } from './dice.ts';
import { hiddenTruth, type Truth } from './hidden-truth.ts';
import { colors, familyNames, givenNames, suppliers, technicians } from './names.ts';
import { beltComesBack, inRelayBatch, plantedStories, type Stories } from './stories.ts';

/** One visit of the invented shop, oldest first. Places refer to `customers` and `vehicles` of the same shop. */
export interface DemoJob {
  readonly vehicle: number;
  readonly openedMs: number;
  /** Null for a card that is still open. */
  readonly closedMs: number | null;
  readonly status: string;
  readonly promiseMs: number | null;
  readonly mileage_km: number;
  readonly technician: string;
  readonly words: string;
  readonly symptomId: SymptomId;
  readonly outcome: 'proven' | 'not-reproduced' | 'normal' | 'handling' | null;
  readonly causes: readonly { readonly causeId: CauseId | null; readonly words: string | null }[];
  readonly proof: Proof | null;
  readonly plannedMinutes: number | null;
  readonly minutes: number | null;
  readonly parts: readonly {
    readonly kind: string;
    readonly description: string;
    readonly supplier: string;
    readonly quantity: number;
  }[];
  /** Place of the job this one is the return of. */
  readonly comebackOf: number | null;
  readonly advisory: { readonly words: string; readonly urgency: 'now' | 'soon' | 'watch' } | null;
}

export interface DemoVehicle {
  readonly customer: number;
  readonly plate: string;
  readonly modelId: string;
  readonly year: number;
  readonly color: string;
  readonly mileage_km: number;
}

export interface DemoShop {
  readonly customers: readonly { readonly name: string; readonly phone: string }[];
  readonly vehicles: readonly DemoVehicle[];
  readonly jobs: readonly DemoJob[];
  readonly stories: Stories;
}

export interface DemoOrder {
  readonly book: Book;
  /** Closed jobs. */
  readonly jobs: number;
  readonly seed: number;
  /** The last day of the ledger, UTC milliseconds. */
  readonly untilMs: number;
}

const day = 86_400_000;
const years = 3;
const hour = 3_600_000;

/** Words for a cause that the book does not list. */
const unknownCauses = [
  'mouse nest under the seat, wires chewed',
  'home-made wiring for a second horn',
  'water in the headset connector after a jet wash',
  'wrong part fitted elsewhere',
  'crash damage found under the panel',
] as const;

const advisories = [
  ['front tire near the wear mark', 'soon'],
  ['brake pads at half', 'watch'],
  ['battery weak under load, will not see another winter', 'soon'],
  ['belt cover gasket seeps', 'watch'],
  ['rear tire cracked at the side', 'now'],
] as const;

interface State {
  readonly order: DemoOrder;
  readonly dice: Dice;
  readonly truth: Truth;
  readonly stories: Stories;
  readonly models: readonly Model[];
  readonly symptoms: readonly Symptom[];
  /** Short phrases by symptom. */
  readonly phrases: ReadonlyMap<string, readonly string[]>;
}

/**
 * Draws an invented shop: customers, vehicles and closed jobs over three years from a hidden truth that differs by
 * model, and a few open cards of the last days. Pure: the same order gives the same shop.
 */
export function makeShop(order: DemoOrder): DemoShop {
  const dice = createDice(order.seed);
  const truth = hiddenTruth(order.book, order.seed);
  const models = [...order.book.models.values()];
  const state: State = {
    order,
    dice,
    truth,
    models,
    stories: plantedStories(order.book, order.untilMs),
    symptoms: [...order.book.symptoms.values()].filter((symptom) => symptom.priors.length > 0),
    phrases: shortPhrases(order.book),
  };
  const customerCount = Math.max(12, Math.round(order.jobs / 4));
  const customers = Array.from({ length: customerCount }, (_, place) => ({
    name: `${dice.pick(givenNames)} ${dice.pick(familyNames)}`,
    phone: `555-${String(100000 + place).slice(1)}`,
  }));
  const vehicles = makeVehicles(state, customerCount);
  const visits = drawVisits(state, vehicles);
  const jobs = [...visits, ...openCards(state, vehicles)];
  return { customers, vehicles, jobs, stories: state.stories };
}

function shortPhrases(book: Book): Map<string, readonly string[]> {
  return new Map(
    [...book.symptoms.values()].map((symptom) => {
      const short = (book.phrases.get(symptom.id) ?? []).filter(
        (text) => text.length >= 12 && text.length <= 90,
      );
      return [symptom.id, short.length > 0 ? short : [symptom.meaning]];
    }),
  );
}

function makeVehicles(state: State, customerCount: number): DemoVehicle[] {
  const { dice, models, order } = state;
  // A few models are on every corner, the rest are seen now and then.
  const popularity = models.map((_, place) => 1 / (1 + 0.35 * place));
  const now = new Date(order.untilMs).getUTCFullYear();
  return Array.from({ length: Math.round(customerCount * 1.15) }, (_, place) => {
    const model = models[dice.weighted(popularity)] as Model;
    const year = dice.whole(model.years.from, Math.min(model.years.to, now - 1));
    return {
      customer: place < customerCount ? place : dice.whole(0, customerCount - 1),
      plate: `${'ABCDEFGHKLMNPRSTVWXYZ'[place % 21]}${'ABCDEFGHKLMNPRSTVWXYZ'[Math.floor(place / 21) % 21]} ${1000 + ((place * 7919) % 9000)}`,
      modelId: model.id,
      year,
      color: dice.pick(colors),
      mileage_km: Math.round((now - year + 1) * (1500 + 3500 * dice.unit())),
    };
  });
}

function drawVisits(state: State, vehicles: readonly DemoVehicle[]): DemoJob[] {
  const { dice, order } = state;
  const from = order.untilMs - years * 365 * day;
  const visits: DemoJob[] = [];
  const returns: DemoJob[] = [];
  // Returns are drawn with the visit that they follow, so about that many fewer first visits are needed.
  const firsts = Math.round(order.jobs * 0.955);
  const moments = Array.from({ length: firsts }, () =>
    workday(from + dice.unit() * (order.untilMs - from - 2 * day), dice),
  );
  moments.sort((a, b) => a - b);
  for (const openedMs of moments) {
    const vehicle = dice.whole(0, vehicles.length - 1);
    const job = drawJob(state, vehicles, vehicle, openedMs, null);
    visits.push(job);
    const back = drawReturn(state, vehicles, job);
    if (back && back.openedMs < order.untilMs - 2 * day) returns.push(back);
  }
  return inOrder(visits, returns);
}

/** Puts visits and returns in order of time and turns references to jobs into their places. */
function inOrder(visits: readonly DemoJob[], returns: readonly DemoJob[]): DemoJob[] {
  const all = [...visits, ...returns].sort((a, b) => a.openedMs - b.openedMs);
  const place = new Map(all.map((job, index) => [job, index]));
  const first = new Map(returns.map((job) => [job, firstOf.get(job)]));
  return all.map((job) => {
    const of = first.get(job);
    return of ? { ...job, comebackOf: place.get(of) ?? null } : job;
  });
}

/** Which visit a return follows; the place is known only once all are sorted. */
const firstOf = new WeakMap<DemoJob, DemoJob>();

/** A moment within opening hours, on a day that is not Sunday. */
function workday(ms: number, dice: Dice): number {
  const midnight = Math.floor(ms / day) * day;
  const sunday = new Date(midnight).getUTCDay() === 0 ? day : 0;
  return midnight + sunday + 8 * hour + Math.floor(dice.unit() * 9 * hour);
}

/** A promise is given for a full or half hour of a working day: the next one or the one after. */
function promised(ms: number, dice: Dice): number {
  const midnight = Math.floor(ms / day) * day + dice.whole(1, 2) * day;
  const sunday = new Date(midnight).getUTCDay() === 0 ? day : 0;
  return midnight + sunday + (20 + dice.whole(0, 14)) * (hour / 2);
}

function mileageAt(state: State, vehicle: DemoVehicle, openedMs: number): number {
  const yearsBefore = (state.order.untilMs - openedMs) / (365 * day);
  const perYear =
    vehicle.mileage_km / Math.max(1, new Date(state.order.untilMs).getUTCFullYear() - vehicle.year + 1);
  return Math.max(50, Math.round(vehicle.mileage_km - yearsBefore * perYear));
}

function drawJob(
  state: State,
  vehicles: readonly DemoVehicle[],
  vehiclePlace: number,
  openedMs: number,
  again: { readonly symptom: Symptom; readonly causeId: CauseId | null } | null,
): DemoJob {
  const { dice, order, truth } = state;
  const vehicle = vehicles[vehiclePlace] as DemoVehicle;
  const model = order.book.models.get(vehicle.modelId as Model['id']) as Model;
  const month = new Date(openedMs).getUTCMonth();
  const rates = state.symptoms.map((symptom) => truth.rateOf(model, symptom, month));
  const batch = again === null && inRelayBatch(state.stories, model, openedMs) && dice.chance(0.5);
  const symptom =
    again?.symptom ??
    (batch ? state.stories.relay?.symptom : undefined) ??
    (state.symptoms[dice.weighted(rates)] as Symptom);
  const { causes, weights } = truth.causesOf(model, symptom);
  const fixed = again?.causeId ?? (batch ? state.stories.relay?.cause.id : undefined);
  const drawn = fixed ? causes.findIndex((cause) => cause.id === fixed) : dice.weighted(weights);
  const cause: Cause | undefined = causes[drawn < 0 ? dice.weighted(weights) : drawn];
  const unproven = again === null ? dice.weighted([0.93, 0.035, 0.015, 0.02]) : 0;
  const outcome = (['proven', 'not-reproduced', 'normal', 'handling'] as const)[unproven] ?? 'proven';
  const isProven = outcome === 'proven';
  const planned = isProven && cause ? cause.repair.minutes : null;
  const slow = Math.exp(0.25 * dice.normal() + 0.05);
  const minutes = Math.max(5, Math.round((planned ?? 20) * slow + 5 + 15 * dice.unit()));
  return {
    vehicle: vehiclePlace,
    openedMs,
    closedMs: openedMs + minutes * 60_000 + Math.floor(dice.unit() * 30 * hour),
    status: 'collected',
    promiseMs: promised(openedMs, dice),
    mileage_km: mileageAt(state, vehicle, openedMs),
    technician: dice.pick(technicians),
    words: dice.pick(state.phrases.get(symptom.id) ?? [symptom.title]),
    symptomId: symptom.id,
    outcome,
    causes: isProven
      ? [cause ? { causeId: cause.id, words: null } : { causeId: null, words: dice.pick(unknownCauses) }]
      : [],
    proof: isProven
      ? ((['retested', 'replaced', 'measured'] as const)[dice.weighted([0.7, 0.22, 0.08])] ?? 'retested')
      : null,
    plannedMinutes: planned,
    minutes,
    parts: isProven && cause ? partsFor(state, cause, batch) : [],
    comebackOf: null,
    advisory: dice.chance(0.12) ? advisoryOf(dice) : null,
  };
}

function advisoryOf(dice: Dice): DemoJob['advisory'] {
  const [words, urgency] = dice.pick(advisories);
  return { words, urgency };
}

function partsFor(state: State, cause: Cause, batch: boolean): DemoJob['parts'] {
  const { book } = state.order;
  return cause.repair.parts.map((need) => ({
    kind: need.kind,
    description: book.partKinds.get(need.kind)?.title ?? need.kind,
    supplier: batch && state.stories.relay ? state.stories.relay.supplier : state.dice.pick(suppliers),
    quantity: need.quantity,
  }));
}

/** Some repairs do not hold: mostly few, but not the belts of one supplier. */
function drawReturn(state: State, vehicles: readonly DemoVehicle[], job: DemoJob): DemoJob | null {
  const { dice, order } = state;
  if (job.outcome !== 'proven' || job.closedMs === null) return null;
  const belt = beltComesBack(state.stories, job);
  if (!dice.chance(belt ? 0.55 : 0.03)) return null;
  const symptom = order.book.symptoms.get(job.symptomId) as Symptom;
  const days = belt ? dice.whole(12, 80) : dice.whole(2, 70);
  const openedMs = workday(job.closedMs + days * day, dice);
  const sameCause = belt || dice.chance(0.55);
  const causeId = sameCause ? (job.causes[0]?.causeId ?? null) : null;
  const back = {
    ...drawJob(state, vehicles, job.vehicle, openedMs, { symptom, causeId }),
    outcome: 'proven' as const,
  };
  firstOf.set(back, job);
  return back;
}

/** Cards of the last two days, one in every state a board can show. */
function openCards(state: State, vehicles: readonly DemoVehicle[]): DemoJob[] {
  const { dice, order } = state;
  const statuses = [
    'booked',
    'booked',
    'checked-in',
    'checked-in',
    'diagnosing',
    'diagnosing',
    'awaiting-approval',
    'waiting-for-parts',
    'waiting-for-parts',
    'on-charge',
    'in-work',
    'in-work',
    'final-check',
  ];
  // What stands on charge came in with a flat battery.
  const flat = state.symptoms.find((symptom) => symptom.id === 'battery-overnight');
  return statuses.map((status, place) => {
    const openedMs = workday(order.untilMs - 2 * day + place * hour, dice);
    const drawn = drawJob(
      state,
      vehicles,
      dice.whole(0, vehicles.length - 1),
      Math.min(openedMs, order.untilMs - hour),
      status === 'on-charge' && flat ? { symptom: flat, causeId: null } : null,
    );
    return {
      ...drawn,
      closedMs: null,
      status,
      promiseMs: promised(order.untilMs - dice.whole(-1, 1) * day, dice),
      outcome: null,
      causes: [],
      proof: null,
      plannedMinutes: null,
      minutes: null,
      parts: [],
      advisory: null,
    };
  });
}
