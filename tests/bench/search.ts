/**
 * The search against plain fuse.js, MiniSearch and SQLite FTS5 on the same complaints. The baselines search the same titles,
 * meanings and phrases, each with the options its own documentation recommends for text like this; they reject nothing they
 * find a word of. Latencies are of one run on one machine; the ratios are what to read.
 */
import Database from 'better-sqlite3';
import Fuse from 'fuse.js';
import MiniSearch from 'minisearch';
import type { Book, Symptom } from '../../src/book/index.ts';
import { createFinder } from '../../src/symptom/index.ts';
import {
  type Complaint,
  complaintSets,
  complaints,
  type Score,
  score,
  searchWith,
  shippedBook,
} from '../reference/symptom-complaints.ts';

interface Latency {
  readonly p50_ms: number;
  readonly p95_ms: number;
}
type Row = Score & Latency & { readonly search: string; readonly texts: string };

const doc = (book: Book) =>
  [...book.symptoms.values()].flatMap(({ id, title, meaning }) =>
    [title, meaning, ...(book.phrases.get(id) ?? [])].map((text) => ({ symptomId: id as string, text })),
  );

/** The first place of each symptom in a list of phrases. */
const distinct = (ids: readonly string[]): string[] => [...new Set(ids)].slice(0, 8);

function baselines(book: Book): Record<string, (text: string) => { ids: string[] }> {
  const phrases = doc(book).map((entry, id) => ({ id, ...entry }));
  const fuse = new Fuse(phrases, { keys: ['text'], ignoreLocation: true, includeScore: true });
  const mini = new MiniSearch({
    fields: ['text'],
    storeFields: ['symptomId'],
    searchOptions: { fuzzy: 0.2, prefix: true },
  });
  mini.addAll(phrases);
  const db = new Database(':memory:');
  db.exec("CREATE VIRTUAL TABLE phrase USING fts5(symptom UNINDEXED, text, tokenize = 'porter unicode61')");
  const insert = db.prepare('INSERT INTO phrase VALUES (?, ?)');
  db.transaction(() => {
    for (const { symptomId, text } of phrases) insert.run(symptomId, text);
  })();
  const match = db.prepare('SELECT symptom FROM phrase WHERE phrase MATCH ? ORDER BY rank LIMIT 200');
  return {
    'fuse.js': (text) => ({
      ids: distinct(fuse.search(text.slice(0, 60)).map(({ item }) => item.symptomId)),
    }),
    MiniSearch: (text) => ({ ids: distinct(mini.search(text).map((found) => found.symptomId as string)) }),
    'SQLite FTS5': (text) => {
      const words = text.match(/[\p{L}\p{N}]+/gu) ?? [];
      if (words.length === 0) return { ids: [] };
      const rows = match.all(words.map((word) => `"${word}"`).join(' OR ')) as { symptom: string }[];
      return { ids: distinct(rows.map(({ symptom }) => symptom)) };
    },
  };
}

/** What a person sees while typing: one search a key. */
function latency(list: readonly Complaint[], search: (text: string) => unknown, step: number): Latency {
  const times: number[] = [];
  for (const { text } of list) {
    for (let end = 1; end <= text.length; end += step) {
      const start = performance.now();
      search(text.slice(0, end));
      times.push(performance.now() - start);
    }
  }
  times.sort((a, b) => a - b);
  const at = (share: number): number =>
    Math.round((times[Math.floor(share * times.length)] ?? 0) * 1000) / 1000;
  return { p50_ms: at(0.5), p95_ms: at(0.95) };
}

/** A book of many symptoms: the shipped ones again and again, each copy with a word of its own in every phrase. */
function multiplied(book: Book, count: number): Book {
  const shipped = [...book.symptoms.values()];
  const symptoms = new Map<string, Symptom>();
  const phrases = new Map<string, readonly string[]>();
  for (let i = 0; i < count; i++) {
    const origin = shipped[i % shipped.length] as Symptom;
    const id = `${origin.id}-${i}`;
    const own = `zone${Math.floor(i / shipped.length)}`;
    symptoms.set(id, { ...origin, id: id as Symptom['id'], title: `${origin.title} ${own}` });
    phrases.set(
      id,
      (book.phrases.get(origin.id) ?? []).slice(0, 20).map((phrase) => `${phrase} ${own}`),
    );
  }
  return {
    ...book,
    symptoms: symptoms as unknown as Book['symptoms'],
    phrases: phrases as unknown as Book['phrases'],
  };
}

/**
 * Of how many complaints one is scored, and one typed key by key with so many keys between two searches. Fuzzy search of a
 * story over all phrases takes MiniSearch tenths of a second and fuse.js seconds, so they get fewer.
 */
const samples = {
  fast: { texts: 1, keys: 8, step: 5 },
  MiniSearch: { texts: 8, keys: 100, step: 25 },
  'fuse.js': { texts: 30, keys: 200, step: 40 },
} as const satisfies Record<string, { texts: number; keys: number; step: number }>;

export function run(): {
  rows: Row[];
  construction_ms: number;
  symptoms5000: Latency & { construction_ms: number };
} {
  const book = shippedBook();
  const start = performance.now();
  const finder = createFinder(book, []);
  finder.find('horn', { limit: 8 });
  const construction_ms = Math.round(performance.now() - start);
  const searches: Record<string, (text: string) => { ids: readonly string[]; isElectric?: boolean }> = {
    'this search': searchWith(finder),
    ...baselines(book),
  };
  const rows: Row[] = [];
  for (const set of complaintSets) {
    const list = complaints(set);
    for (const [name, search] of Object.entries(searches)) {
      const { texts, keys, step } = name in samples ? samples[name as keyof typeof samples] : samples.fast;
      const every = (n: number): Complaint[] => list.filter((_, i) => i % n === 0);
      rows.push({
        search: name,
        texts: set,
        ...score(every(texts), search),
        ...latency(every(keys), search, step),
      });
    }
  }
  const many = multiplied(book, 5000);
  const built = performance.now();
  const large = createFinder(many, []);
  const largeConstruction = Math.round(performance.now() - built);
  const some = complaints('dev').filter((_, i) => i % 10 === 0);
  const symptoms5000 = {
    ...latency(some, (text) => large.find(text, { limit: 8 }), 5),
    construction_ms: largeConstruction,
  };
  console.table(
    rows.map(
      ({ search, texts, hitsAt1, hitsAt3, reciprocalRank, rejected, rejectedWrongly, p50_ms, p95_ms }) => ({
        texts,
        search,
        'hits@1': hitsAt1,
        'hits@3': hitsAt3,
        MRR: reciprocalRank,
        'rejected (out of scope)': rejected,
        'rejected (real)': rejectedWrongly,
        'p50 ms/key': p50_ms,
        'p95 ms/key': p95_ms,
      }),
    ),
  );
  console.log(
    `Learning the shipped book: ${construction_ms} ms. 5,000 symptoms: learned in ${largeConstruction} ms, ` +
      `p50 ${symptoms5000.p50_ms} ms and p95 ${symptoms5000.p95_ms} ms a key.`,
  );
  return { rows, construction_ms, symptoms5000 };
}
