import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { Book } from '../../src/book/index.ts';
import { buildBook, readHandbook } from '../../src/handbook/index.ts';
import type { Finder } from '../../src/symptom/index.ts';

const handbook = new URL('../../seed/handbook/', import.meta.url);

/** The handbook as it is shipped. */
export function shippedBook(): Book {
  const files = readdirSync(handbook, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.yaml'))
    .sort()
    .map((path) => ({
      path: path.replaceAll('\\', '/'),
      text: readFileSync(new URL(path.replaceAll('\\', '/'), handbook), 'utf8'),
    }));
  return buildBook(readHandbook(files).entries, 'shipped').book;
}

/** One text with what it means: acceptable symptoms, or none where it is out of scope. */
export interface Complaint {
  readonly text: string;
  readonly symptoms: readonly string[];
  readonly isElectric: boolean;
}

export const complaintSets = ['dev', 'fresh', 'test', 'test-2'] as const;
export type ComplaintSet = (typeof complaintSets)[number];

/** `dev` was used to develop the search; `fresh` was written by us without a look at the phrases and may be read to develop it further; `test` and `test-2` were kept away from whoever developed it. */
export function complaints(set: ComplaintSet): Complaint[] {
  const file = new URL(`data/complaints-${set}.yaml`, import.meta.url);
  const { cases } = parse(readFileSync(file, 'utf8')) as {
    cases: { text: string; symptom?: string | string[]; scope?: string }[];
  };
  return cases.map(({ text, symptom, scope }) => ({
    text,
    symptoms: symptom === undefined ? [] : [symptom].flat(),
    isElectric: scope === 'electric-drive',
  }));
}

export interface Score {
  readonly complaints: number;
  /** Share with an acceptable symptom first, and among the first three; a text turned away counts as a miss. */
  readonly hitsAt1: number;
  readonly hitsAt3: number;
  /** Mean of one over the place of the first acceptable symptom. */
  readonly reciprocalRank: number;
  /** Share of real complaints that got no match at all. */
  readonly rejectedWrongly: number;
  readonly outOfScope: number;
  /** Share of texts out of scope that got no match. */
  readonly rejected: number;
  /** Share of texts about electric drive that were told so. */
  readonly namedElectric: number;
}

/** Scores a search that answers with ids of symptoms, best first. */
export function score(
  list: readonly Complaint[],
  search: (text: string) => { ids: readonly string[]; isElectric?: boolean },
): Score {
  const real = list.filter(({ symptoms }) => symptoms.length > 0);
  const out = list.filter(({ symptoms }) => symptoms.length === 0);
  let first = 0;
  let three = 0;
  let reciprocal = 0;
  let wrongly = 0;
  for (const { text, symptoms } of real) {
    const { ids } = search(text);
    const place = ids.findIndex((id) => symptoms.includes(id));
    if (ids.length === 0) wrongly += 1;
    if (place === 0) first += 1;
    if (place >= 0 && place < 3) three += 1;
    if (place >= 0) reciprocal += 1 / (place + 1);
  }
  const electric = out.filter(({ isElectric }) => isElectric);
  const share = (count: number, of: number): number => (of === 0 ? 0 : Math.round((count / of) * 1e4) / 1e4);
  return {
    complaints: real.length,
    hitsAt1: share(first, real.length),
    hitsAt3: share(three, real.length),
    reciprocalRank: share(reciprocal, real.length),
    rejectedWrongly: share(wrongly, real.length),
    outOfScope: out.length,
    rejected: share(out.filter(({ text }) => search(text).ids.length === 0).length, out.length),
    namedElectric: share(electric.filter(({ text }) => search(text).isElectric).length, electric.length),
  };
}

export const searchWith = (finder: Finder) => (text: string) => {
  const { matches, outOfScope } = finder.find(text, { limit: 8 });
  return {
    ids: matches.map(({ symptomId }) => symptomId),
    isElectric: outOfScope?.kind === 'electric-drive',
  };
};
