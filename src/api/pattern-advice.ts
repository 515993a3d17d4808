import { type Book, existsOn, type System } from '../book/index.ts';
import { type Entry, entryText } from '../handbook/index.ts';
import {
  type AdviceGroup,
  type AdviceSymptom,
  groupWords,
  median,
  type PriorAdvice,
  priorAdvice,
  shareProven,
  sharesAfter,
} from '../ledger/index.ts';
import { findEntry, ledgerSpan, loadWholeTally, provenInWords } from '../store/index.ts';
import type { CauseId, FamilyId, ModelId, SymptomId } from '../terms.ts';
import { entryOfRow } from './book-shelf.ts';
import type { Advice, OutputOf, ParsedInputOf } from './contract.ts';
import { type Desk, inSnapshot } from './desk.ts';
import { remarkOn, stretchOf, titlesOf } from './pattern-views.ts';

/** The same words so often are a cause of its own. */
const oftenEnough = 5;
const mostAdvice = 20;
/** So often behind one symptom it belongs among its causes. */
const oftenAtSymptom = 3;
const mostPlaces = 4;
const unlisted = ' not in the book';

/** What each symptom's proven concerns say, by the machines on which the same causes can occur. */
async function evidenceOf(desk: Desk, book: Book): Promise<AdviceSymptom[]> {
  const { tally, closed } = await loadWholeTally(desk.db);
  const traitsOf = (modelId: string, familyId: string) =>
    book.models.get(modelId as ModelId)?.traits ?? book.families.get(familyId as FamilyId)?.traits;
  const tallyOf = Map.groupBy(tally, (row) => row.symptom_id);
  const closedOf = Map.groupBy(
    closed.filter((row) => row.outcome === 'proven'),
    (row) => row.symptom_id,
  );
  return [...closedOf].flatMap(([symptomId, machines]): AdviceSymptom[] => {
    const symptom = book.symptoms.get(symptomId as SymptomId);
    if (!symptom) return [];
    const countsOf = Map.groupBy(tallyOf.get(symptomId) ?? [], (row) => `${row.model_id} ${row.family_id}`);
    const groups = machines.map(({ model_id, family_id, concerns }): AdviceGroup => {
      const traits = traitsOf(model_id, family_id);
      const counts = new Map(
        (countsOf.get(`${model_id} ${family_id}`) ?? []).map((row) => [row.cause_id, row.concerns]),
      );
      return {
        concerns,
        counts,
        canOccur: (causeId) =>
          (counts.get(causeId) ?? 0) > 0 || existsOn(book.causes.get(causeId as CauseId)?.on ?? {}, traits),
      };
    });
    return [{ symptomId, priors: symptom.priors, unlistedOf100: symptom.unlistedOf100, groups }];
  });
}

interface PriorLine {
  readonly cause: string;
  readonly of_100: number;
  readonly because: string;
}

/** The symptom's entry with one share set and the others scaled; null where the entry cannot be read. */
async function symptomEdit(
  desk: Desk,
  symptomId: string,
  causeId: string,
  of100: number,
  because: (before: string) => string,
): Promise<Advice['edits'][number] | null> {
  const row = await findEntry(desk.db, 'symptom', symptomId);
  const entry = row ? entryOfRow(row) : null;
  if (!entry) return null;
  const priors = (entry.body.priors ?? []) as PriorLine[];
  const shares = sharesAfter(
    new Map([
      ...priors.map((prior): [string, number] => [prior.cause, prior.of_100]),
      [unlisted, Number(entry.body.unlisted_of_100)],
    ]),
    causeId,
    of100,
  );
  const set = priors.some((prior) => prior.cause === causeId)
    ? priors
    : [...priors, { cause: causeId, of_100: of100, because: '' }];
  const body = {
    ...entry.body,
    unlisted_of_100: shares.get(unlisted),
    priors: set.map((prior) => ({
      ...prior,
      of_100: shares.get(prior.cause) ?? prior.of_100,
      ...(prior.cause === causeId ? { because: because(prior.because) } : {}),
    })),
  };
  return {
    kind: 'symptom',
    id: symptomId,
    yaml: entryText({ ...entry, body } as Entry),
    ifYaml: entryText(entry),
  };
}

const round1 = (value: number): string => value.toFixed(value < 10 ? 1 : 0).replace(/\.0$/, '');
/** What an earlier change of this kind wrote behind the reason. */
const written = / ?In this shop \d+ of \d+ jobs\.$/;

async function priorView(desk: Desk, book: Book, one: PriorAdvice): Promise<Advice | null> {
  const titles = titlesOf(book);
  const edit = await symptomEdit(desk, one.symptomId, one.causeId, one.becomes, (before) =>
    `${before.replace(written, '')} In this shop ${one.proven} of ${one.concerns} jobs.`.trim(),
  );
  if (!edit) return null;
  return {
    adviceId: `prior ${one.symptomId} ${one.causeId}`,
    kind: 'prior',
    title: `${titles.symptom(one.symptomId)}: ${titles.cause(one.causeId)}`,
    says: `Proven in ${one.proven} of ${one.concerns} jobs; by the book ${round1(one.expected)} were to be expected on these machines. The book says ${one.now} of 100; ${one.becomes} of 100 agrees with the shop.`,
    symptomId: one.symptomId,
    causeId: one.causeId,
    jobNumbers: [],
    now: one.now,
    becomes: one.becomes,
    falseShare: Math.min(1, one.falseShare),
    edits: [edit],
  };
}

/** The component that the words name; the harness where they speak of wires; null where only a person can say. */
function componentFor(book: Book, words: string): string | null {
  // One with hazards needs cautions that nobody has written for this cause yet.
  const free = [...book.components.values()].filter((one) => one.hazards.length === 0);
  const named = free
    .filter((one) => new RegExp(`\\b${escaped(one.title)}\\b`, 'i').test(words))
    .sort((a, b) => b.title.length - a.title.length)[0];
  if (named) return named.id;
  return /\bwir(e|es|ing)\b/i.test(words)
    ? (free.find((one) => one.id === 'wiring-harness')?.id ?? null)
    : null;
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

const idOf = (words: string): string =>
  words
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
    .replace(/-+$/, '');

interface NewCause {
  readonly causeId: string;
  readonly title: string;
  readonly system: System;
  readonly component: string;
  readonly minutes: number;
  readonly times: number;
}

/** A first entry: what the closed jobs know of the cause, and where a person goes on writing. */
const causeText = ({ causeId, title, system, component, minutes, times }: NewCause): string =>
  entryText({
    kind: 'cause',
    id: causeId,
    path: '',
    line: 0,
    fieldLines: {},
    body: {
      id: causeId,
      title,
      system,
      component,
      fault_mode: 'found in this shop',
      shows: `Proven in ${times} jobs of this shop. Write here how it shows.`,
      repair: {
        title: `Put right: ${title.slice(0, 100)}`,
        steps: ['Write here how it is put right.'],
        minutes,
        parts: [],
        proof: 'The complaint is gone in the same conditions.',
      },
      cautions: [],
      basis: 'shop-measured',
    },
  });

/** Causes that the shop proved again and again and the book lacks: a first entry for each, and its place among the shares. */
async function lackingAdvice(
  desk: Desk,
  book: Book,
  said: Awaited<ReturnType<typeof provenInWords>>,
  proven: ReadonlyMap<string, number>,
): Promise<Advice[]> {
  const titles = titlesOf(book);
  const result: Advice[] = [];
  const groups = groupWords(said.map(({ words, jobNumber }) => ({ words: words ?? '', jobNumber })));
  for (const group of groups.filter((one) => one.times >= oftenEnough)) {
    const rows = said.filter(
      (row) =>
        (row.words ?? '').trim().toLowerCase().replace(/\s+/g, ' ') ===
        group.words.toLowerCase().replace(/\s+/g, ' '),
    );
    const causeId = idOf(group.words);
    if (causeId === '' || book.causes.has(causeId as CauseId)) continue;
    const places = [...Map.groupBy(rows, (row) => row.symptomId ?? '')]
      .map(([symptomId, own]) => ({
        symptomId,
        own: own.length,
        of: Math.max(own.length, proven.get(symptomId) ?? 0),
      }))
      .filter(({ symptomId }) => book.symptoms.has(symptomId as SymptomId))
      .sort((a, b) => b.own - a.own)
      .filter(({ own }, place) => place === 0 || own >= oftenAtSymptom)
      .slice(0, mostPlaces);
    const [first] = places;
    const symptom = book.symptoms.get((first?.symptomId ?? '') as SymptomId);
    if (!first || !symptom) continue;
    const component = componentFor(book, group.words);
    const becomes = shareProven(first.own, first.of);
    const title = group.words.slice(0, 1).toUpperCase() + group.words.slice(1, 120);
    const behind = places
      .map(({ symptomId, own, of }) => `“${titles.symptom(symptomId)}” (${own} of ${of} jobs)`)
      .join(', ');
    const edits: Advice['edits'] = [];
    if (component !== null) {
      const minutes = Math.max(1, Math.round(median(rows.flatMap((row) => row.minutes ?? [])) || 20));
      edits.push({
        kind: 'cause',
        system: symptom.system,
        yaml: causeText({ causeId, title, system: symptom.system, component, minutes, times: group.times }),
      });
      for (const { symptomId, own, of } of places) {
        const words = `In this shop ${own} of ${of} jobs.`;
        const edit = await symptomEdit(desk, symptomId, causeId, shareProven(own, of), () => words);
        if (edit) edits.push(edit);
      }
    }
    result.push({
      adviceId: `cause ${causeId}`,
      kind: 'cause',
      title,
      says: `Proven ${group.times} times and not in the book; most often behind ${behind}. ${
        component === null
          ? 'Which component it belongs to, only a person can say: write the entry.'
          : `It is entered there, under ${titles.component(component)}; complete its words afterward.`
      }`,
      symptomId: symptom.id,
      causeId,
      jobNumbers: [...group.jobNumbers],
      now: null,
      becomes,
      falseShare: null,
      edits,
    });
  }
  return result;
}

/** Where the shop proves something else than the book says, with the edits that would put it right. */
export async function adviceFor(
  desk: Desk,
  input: ParsedInputOf<'patterns.advice'>,
): Promise<OutputOf<'patterns.advice'>> {
  const { book } = await desk.book();
  const now = desk.now();
  const stretch = stretchOf(input, now, 3 * 365);
  return inSnapshot(desk, async (db) => {
    const inside = desk.office.desk(db);
    const evidence = await evidenceOf(inside, book);
    const found = priorAdvice(evidence);
    const proven = new Map(
      evidence.map((one) => [one.symptomId, one.groups.reduce((sum, group) => sum + group.concerns, 0)]),
    );
    const advice: Advice[] = [];
    for (const one of found.advice.slice(0, mostAdvice)) {
      const view = await priorView(inside, book, one);
      if (view) advice.push(view);
    }
    advice.push(...(await lackingAdvice(inside, book, await provenInWords(db, stretch), proven)));
    return {
      advice,
      symptoms: found.symptoms,
      tested: found.tested,
      remark: remarkOn(stretch, await ledgerSpan(db), now.ms),
    };
  });
}
