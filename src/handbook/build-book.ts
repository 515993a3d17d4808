import type { Book, Precondition, SeparatingQuestion } from '../book/index.ts';
import type { CheckId, FamilyId, SymptomId } from '../terms.ts';
import { circuitFindings } from './circuit-findings.ts';
import { type Entry, type EntryKind, type TextGroup, textGroupOf } from './entry.ts';
import { ruleFindings } from './entry-rules.ts';
import { shapeFindings } from './explain-shape.ts';
import { type Finding, inReadingOrder } from './finding.ts';
import { danglingReferences, knownIds } from './references.ts';
import type { Shape } from './shapes.ts';
import { causeOf, checkOf, componentOf, familyOf, modelOf, specOf, symptomOf } from './to-book.ts';

/**
 * Makes the book from entries. `version` is any text that changes with the content. Entries marked `flawed` were reported by
 * `readHandbook` and are left out; others are checked for form again, because an edit in the shop comes without a file. The book
 * is fit for use only when no finding is an error.
 */
export function buildBook(entries: readonly Entry[], version: string): { book: Book; findings: Finding[] } {
  const { ids, findings } = knownIds(entries);
  const sound: Entry[] = [];
  for (const entry of new Set([...ids.values()].flatMap((ofKind) => [...ofKind.values()]))) {
    if (entry.flawed) continue;
    const flaws = shapeFindings(entry);
    findings.push(...flaws);
    if (flaws.length === 0) sound.push(entry);
  }
  findings.push(...danglingReferences(sound, ids));
  for (const entry of sound) findings.push(...ruleFindings(entry, ids));
  findings.push(...circuitFindings(sound));
  return { book: bookOf(sound, version), findings: inReadingOrder(findings) };
}

function bookOf(sound: readonly Entry[], version: string): Book {
  const byId = <T>(kind: EntryKind, make: (entry: Entry) => T): Map<string, T> =>
    new Map(sound.filter((entry) => entry.kind === kind).map((entry) => [entry.id, make(entry)]));
  const families = byId('family', familyOf);
  return {
    version,
    symptoms: byId('symptom', symptomOf) as Map<SymptomId, ReturnType<typeof symptomOf>>,
    causes: byId('cause', causeOf) as unknown as Book['causes'],
    checks: byId('check', checkOf) as unknown as Book['checks'],
    specs: byId('spec', specOf) as unknown as Book['specs'],
    preconditions: byId('precondition', preconditionOf),
    cautions: byId('caution', (entry) => {
      const { id, signal, hazard, avoid, do_not_ride } = entry.body as Shape<'caution'>;
      return { id, signal, hazard, avoid, doNotRide: do_not_ride ?? false };
    }),
    components: byId('component', componentOf),
    partKinds: byId('part-kind', (entry) => {
      const { id, title, typical_price, basis } = entry.body as Shape<'part-kind'>;
      return {
        id,
        title,
        typicalPrice: typical_price,
        basis: typeof basis === 'string' ? { kind: basis } : basis,
      };
    }),
    models: byId('model', (entry) =>
      modelOf(entry, families.get((entry.body as Shape<'model'>).family)),
    ) as unknown as Book['models'],
    families: families as Map<FamilyId, ReturnType<typeof familyOf>>,
    questions: [...byId('question', questionOf).values()],
    phrases: phrasesOf(sound),
    outOfScope: textsOf(sound, 'out-of-scope'),
    electricDrive: textsOf(sound, 'electric-drive'),
    circuits: byId('circuit', (entry) => entry.body),
  };
}

function preconditionOf(entry: Entry): Precondition {
  const body = entry.body as Shape<'precondition'>;
  return {
    id: body.id,
    title: body.title,
    because: body.because,
    checkId: body.check as CheckId,
    metBy: body.met_by,
    otherwise: body.otherwise,
    elapsedMinutes: body.elapsed_minutes,
  };
}

function questionOf(entry: Entry): SeparatingQuestion {
  const { id, ask, answers } = entry.body as Shape<'question'>;
  return { id, ask, answers: answers.map(({ say, symptom }) => ({ say, symptomId: symptom as SymptomId })) };
}

function phrasesOf(sound: readonly Entry[]): Map<SymptomId, string[]> {
  const phrases = new Map<SymptomId, string[]>();
  for (const entry of sound) {
    if (entry.kind !== 'phrases') continue;
    const body = entry.body as Shape<'phrases'>;
    if (!body.symptom) continue;
    const symptomId = body.symptom as SymptomId;
    phrases.set(symptomId, [...(phrases.get(symptomId) ?? []), ...body.phrases]);
  }
  return phrases;
}

const textsOf = (sound: readonly Entry[], group: TextGroup): string[] =>
  sound.flatMap((entry) =>
    entry.kind === 'phrases' && textGroupOf(entry.id) === group
      ? (entry.body as Shape<'phrases'>).phrases
      : [],
  );
