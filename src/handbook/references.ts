import { didYouMean } from './closest-name.ts';
import { type Entry, type EntryKind, lineOfField } from './entry.ts';
import type { Finding } from './finding.ts';
import type { Shape } from './shapes.ts';

export interface Reference {
  readonly field: string;
  readonly kind: EntryKind;
  readonly id: string;
}

/** Every id of another entry that an entry of sound form names. */
export function referencesOf(entry: Entry): Reference[] {
  const found: Reference[] = [];
  const one = (field: string, kind: EntryKind, id: string | null | undefined): void => {
    if (id) found.push({ field, kind, id });
  };
  const many = (field: string, kind: EntryKind, ids: readonly string[] | undefined): void => {
    ids?.forEach((id, index) => {
      one(`${field}[${index}]`, kind, id);
    });
  };
  const keys = (field: string, kind: EntryKind, record: object | undefined): void => {
    for (const id of Object.keys(record ?? {})) one(`${field}.${id}`, kind, id);
  };
  switch (entry.kind) {
    case 'symptom': {
      const body = entry.body as Shape<'symptom'>;
      many('related', 'symptom', body.related);
      body.priors.forEach((prior, index) => {
        one(`priors[${index}].cause`, 'cause', prior.cause);
      });
      break;
    }
    case 'cause': {
      const body = entry.body as Shape<'cause'>;
      one('component', 'component', body.component);
      body.repair.parts.forEach((part, index) => {
        if (typeof part === 'string') one(`repair.parts[${index}]`, 'part-kind', part);
        else one(`repair.parts[${index}].kind`, 'part-kind', part.kind);
      });
      many('cautions', 'caution', body.cautions);
      keys('wiring', 'circuit', body.wiring);
      break;
    }
    case 'check': {
      const body = entry.body as Shape<'check'>;
      one('spec', 'spec', body.spec);
      many('symptoms', 'symptom', body.symptoms);
      many('cautions', 'caution', body.cautions);
      many('needs', 'precondition', body.needs);
      keys('when', 'cause', body.when);
      body.probes?.forEach((probe, index) => {
        one(`probes[${index}].circuit`, 'circuit', probe.circuit);
      });
      break;
    }
    case 'spec': {
      const body = entry.body as Shape<'spec'>;
      one('component', 'component', body.component);
      many('models', 'model', body.models);
      break;
    }
    case 'precondition':
      one('check', 'check', (entry.body as Shape<'precondition'>).check);
      break;
    case 'model': {
      const body = entry.body as Shape<'model'>;
      one('family', 'family', body.family);
      many('circuits', 'circuit', body.circuits);
      break;
    }
    case 'question':
      (entry.body as Shape<'question'>).answers.forEach((answer, index) => {
        one(`answers[${index}].symptom`, 'symptom', answer.symptom);
      });
      break;
    case 'phrases':
      one('symptom', 'symptom', (entry.body as Shape<'phrases'>).symptom);
      break;
    default:
      break;
  }
  return found;
}

const kindNames: Readonly<Record<EntryKind, string>> = {
  handbook: 'handbook',
  symptom: 'symptom',
  cause: 'cause',
  check: 'check',
  spec: 'spec',
  caution: 'caution',
  precondition: 'precondition',
  component: 'component',
  'part-kind': 'part kind',
  family: 'engine family',
  model: 'model',
  question: 'question',
  phrases: 'phrases',
  circuit: 'circuit',
};

/** Ids by kind; an id that two entries of one kind share is a finding at the second. */
export function knownIds(entries: readonly Entry[]): {
  ids: Map<EntryKind, Map<string, Entry>>;
  findings: Finding[];
} {
  const ids = new Map<EntryKind, Map<string, Entry>>();
  const findings: Finding[] = [];
  for (const entry of entries) {
    const ofKind = ids.get(entry.kind) ?? new Map<string, Entry>();
    ids.set(entry.kind, ofKind);
    const first = ofKind.get(entry.id);
    if (first) {
      const where = first.line > 0 ? `${first.path}:${first.line}` : first.path;
      findings.push({
        severity: 'error',
        code: 'duplicate-id',
        message: `the ${kindNames[entry.kind]} “${entry.id}” is already written at ${where}; one id is one thing`,
        file: entry.path,
        line: lineOfField(entry, 'id'),
        field: 'id',
        id: entry.id,
      });
    } else {
      ofKind.set(entry.id, entry);
    }
  }
  return { ids, findings };
}

/** References to ids that no entry has. */
export function danglingReferences(
  entries: readonly Entry[],
  ids: ReadonlyMap<EntryKind, ReadonlyMap<string, Entry>>,
): Finding[] {
  const findings: Finding[] = [];
  for (const entry of entries) {
    for (const { field, kind, id } of referencesOf(entry)) {
      const known = ids.get(kind);
      if (known?.has(id)) continue;
      const elsewhere = [...ids].find(([, map]) => map.has(id))?.[0];
      const close = didYouMean(id, known?.keys() ?? []);
      const other = !close && elsewhere ? `; it is the id of a ${kindNames[elsewhere]}` : '';
      findings.push({
        severity: 'error',
        code: `unknown-${kind}`,
        message: `there is no ${kindNames[kind]} “${id}”${close}${other}`,
        file: entry.path,
        line: lineOfField(entry, field),
        field,
        id: entry.id,
      });
    }
  }
  return findings;
}
