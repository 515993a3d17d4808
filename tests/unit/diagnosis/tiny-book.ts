import type { Book, Cause, Check, EngineFamily, Model, Symptom, TallyRow } from '../../../src/book/index.ts';
import type { CauseId, CheckId, FamilyId, ModelId, SymptomId } from '../../../src/terms.ts';

/** Small books for tests, written as little as possible: every value not given is the plainest one. */
export function cause(id: string, more: Partial<Cause> = {}): Cause {
  return {
    id: id as CauseId,
    title: `Title of ${id}`,
    system: 'starting',
    kind: 'fault',
    componentId: `${id}-part`,
    faultMode: 'open',
    on: {},
    shows: '',
    showsWith: 1,
    repair: { title: `Repair ${id}`, steps: [], minutes: 10, parts: [], proof: '' },
    cautionIds: [],
    wiring: {},
    basis: { kind: 'common-practice' },
    ...more,
  };
}

/** Outcomes as {id: healthy chance}; `when` as {cause: {outcome: chance}}. */
export function check(
  id: string,
  outcomes: Record<string, number>,
  when: Record<string, Record<string, number>>,
  more: Partial<Check> = {},
): Check {
  return {
    id: id as CheckId,
    title: `Title of ${id}`,
    system: 'starting',
    kind: 'look',
    instrument: 'none',
    phone: false,
    on: {},
    symptomIds: [],
    place: '',
    access: [],
    controls: {},
    needs: [],
    minutes: 2,
    waitMinutes: 0,
    steps: [],
    healthy: '',
    specId: null,
    quantity: null,
    cautionIds: [],
    outcomes: Object.entries(outcomes).map(([one, healthy]) => ({
      id: one,
      title: `Title ${one}`,
      means: '',
      healthy,
    })),
    when: when as Check['when'],
    probes: [],
    basis: { kind: 'common-practice' },
    ...more,
  };
}

export function symptom(id: string, priors: Record<string, number>, unlistedOf100: number): Symptom {
  return {
    id: id as SymptomId,
    system: 'starting',
    title: `Title of ${id}`,
    meaning: '',
    related: [],
    lacks: [],
    priors: Object.entries(priors).map(([causeId, of100]) => ({
      causeId: causeId as CauseId,
      of100,
      because: '',
    })),
    unlistedOf100,
  };
}

export function model(id: string, familyId: string, traits: Model['traits'] = {}): Model {
  return {
    id: id as ModelId,
    maker: 'Pellan',
    name: id,
    familyId: familyId as FamilyId,
    years: { from: 2010, to: 2020 },
    traits,
    circuitIds: [],
    aliases: [],
    basis: { kind: 'demo' },
  };
}

export function family(id: string): EngineFamily {
  return { id: id as FamilyId, title: id, displacement_cm3: 125, traits: {} };
}

const byId = <T extends { readonly id: string }>(list: readonly T[]): Map<never, T> =>
  new Map(list.map((one) => [one.id as never, one]));

export function book(parts: {
  symptoms: Symptom[];
  causes: Cause[];
  checks?: Check[];
  models?: Model[];
  families?: EngineFamily[];
  preconditions?: Book['preconditions'] extends ReadonlyMap<string, infer P> ? P[] : never;
  cautions?: Book['cautions'] extends ReadonlyMap<string, infer C> ? C[] : never;
}): Book {
  return {
    version: 'test-1',
    symptoms: byId(parts.symptoms),
    causes: byId(parts.causes),
    checks: byId(parts.checks ?? []),
    specs: new Map(),
    preconditions: byId(parts.preconditions ?? []) as Book['preconditions'],
    cautions: byId(parts.cautions ?? []) as Book['cautions'],
    components: new Map(),
    partKinds: new Map(),
    models: byId(parts.models ?? []),
    families: byId(parts.families ?? []),
    questions: [],
    phrases: new Map(),
    outOfScope: [],
    electricDrive: [],
    circuits: new Map(),
  };
}

export function row(
  symptomId: string,
  causeId: string,
  of: Model | null,
  concerns: number,
  weight = concerns * 1_000_000,
): TallyRow {
  return {
    symptomId: symptomId as SymptomId,
    causeId: causeId as CauseId,
    modelId: of?.id ?? null,
    familyId: of?.familyId ?? null,
    concerns,
    weight,
  };
}
