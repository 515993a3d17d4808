import type {
  Basis,
  Cause,
  Check,
  Component,
  EngineFamily,
  ExistsOn,
  MachineTraits,
  Model,
  Outcome,
  Probe,
  Spec,
  Symptom,
  System,
  WiringState,
} from '../book/index.ts';
import type { CauseId, CheckId, CircuitId, FamilyId, ModelId, SpecId, SymptomId } from '../terms.ts';
import { type Entry, systemFolderOf } from './entry.ts';
import type { BasisForm, Shape } from './shapes.ts';

/** The book's records from bodies of sound form, defaults filled in. */

const basisOf = (basis: BasisForm): Basis => (typeof basis === 'string' ? { kind: basis } : basis);
const systemOf = (entry: Entry): System => (entry.body.system ?? systemFolderOf(entry.path)) as System;
const limits = ([low, high]: readonly [number | null, number | null]): {
  low: number | null;
  high: number | null;
} => ({
  low,
  high,
});

export function symptomOf(entry: Entry): Symptom {
  const body = entry.body as Shape<'symptom'>;
  return {
    id: body.id as SymptomId,
    system: systemOf(entry),
    title: body.title,
    meaning: body.meaning,
    related: (body.related ?? []) as SymptomId[],
    lacks: body.lacks ?? [],
    priors: body.priors.map((prior) => ({
      causeId: prior.cause as CauseId,
      of100: prior.of_100,
      because: prior.because,
    })),
    unlistedOf100: body.unlisted_of_100,
  };
}

export function causeOf(entry: Entry): Cause {
  const body = entry.body as Shape<'cause'>;
  return {
    id: body.id as CauseId,
    title: body.title,
    system: systemOf(entry),
    kind: body.kind ?? 'fault',
    componentId: body.component,
    faultMode: body.fault_mode,
    on: (body.on ?? {}) as ExistsOn,
    shows: body.shows,
    showsWith: body.shows_with ?? 1,
    repair: {
      title: body.repair.title,
      steps: body.repair.steps,
      minutes: body.repair.minutes,
      parts: body.repair.parts.map((part) => (typeof part === 'string' ? { kind: part, quantity: 1 } : part)),
      proof: body.repair.proof,
    },
    cautionIds: body.cautions ?? [],
    wiring: (body.wiring ?? {}) as Record<CircuitId, WiringState>,
    basis: basisOf(body.basis),
  };
}

export function checkOf(entry: Entry): Check {
  const body = entry.body as Shape<'check'>;
  return {
    id: body.id as CheckId,
    title: body.title,
    system: systemOf(entry),
    kind: body.kind,
    instrument: body.instrument ?? 'none',
    phone: body.phone ?? body.kind === 'ask',
    on: (body.on ?? {}) as ExistsOn,
    symptomIds: (body.symptoms ?? []) as SymptomId[],
    place: body.place ?? '',
    access: body.access ?? [],
    controls: body.controls ?? {},
    needs: body.needs ?? [],
    minutes: body.minutes,
    waitMinutes: body.wait_minutes ?? 0,
    steps: body.steps,
    healthy: body.healthy,
    specId: (body.spec ?? null) as SpecId | null,
    quantity: body.quantity
      ? {
          name: body.quantity.name,
          unit: body.quantity.unit,
          possible: { low: body.quantity.possible[0], high: body.quantity.possible[1] },
        }
      : null,
    cautionIds: body.cautions ?? [],
    outcomes: body.outcomes.map(outcomeOf),
    when: (body.when ?? {}) as Record<CauseId, Record<string, number>>,
    probes: (body.probes ?? []).map(probeOf),
    basis: basisOf(body.basis),
  };
}

function outcomeOf(outcome: Shape<'check'>['outcomes'][number]): Outcome {
  const { id, title, means, healthy, range } = outcome;
  return { id, title, means, healthy, ...(range ? { range: limits(range) } : {}) };
}

function probeOf(probe: NonNullable<Shape<'check'>['probes']>[number]): Probe {
  return {
    circuitId: probe.circuit as CircuitId,
    instrument: probe.instrument,
    controls: probe.controls ?? {},
    unplugged: probe.unplugged ?? [],
    removed: probe.removed ?? [],
  };
}

export function specOf(entry: Entry): Spec {
  const body = entry.body as Shape<'spec'>;
  return {
    id: body.id as SpecId,
    title: body.title,
    componentId: body.component,
    quantity: body.quantity,
    unit: body.unit,
    low: body.low ?? null,
    high: body.high ?? null,
    conditions: body.conditions,
    on: (body.on ?? {}) as ExistsOn,
    modelIds: body.models ?? [],
    basis: basisOf(body.basis),
  };
}

export function componentOf(entry: Entry): Component {
  const body = entry.body as Shape<'component'>;
  return { id: body.id, title: body.title, system: systemOf(entry), hazards: body.hazards ?? [] };
}

export function familyOf(entry: Entry): EngineFamily {
  const body = entry.body as Shape<'family'>;
  return {
    id: body.id as FamilyId,
    title: body.title,
    displacement_cm3: body.displacement_cm3,
    traits: body.traits as MachineTraits,
  };
}

export function modelOf(entry: Entry, family: EngineFamily | undefined): Model {
  const body = entry.body as Shape<'model'>;
  return {
    id: body.id as ModelId,
    maker: body.maker,
    name: body.name,
    familyId: body.family as FamilyId,
    years: { from: body.years[0], to: body.years[1] },
    traits: { ...family?.traits, ...(body.traits as MachineTraits | undefined) },
    circuitIds: (body.circuits ?? []) as CircuitId[],
    aliases: body.aliases ?? [],
    basis: basisOf(body.basis),
  };
}
