import { describe, expect, test } from 'vitest';
import { symptomMatch } from '../../../src/api/contract/diagnosis.ts';
import type { Book } from '../../../src/book/index.ts';
import { createFinder } from '../../../src/symptom/index.ts';
import { shippedBook } from '../../reference/symptom-complaints.ts';
import { smallBook } from './small-book.ts';

const book = shippedBook();
const finder = createFinder(book, []);
const first = (text: string): string | undefined => finder.find(text, { limit: 5 }).matches[0]?.symptomId;

describe('what riders say', () => {
  test.each([
    ['press the button, one click and thats it', 'start-click'],
    ['Rain again this morning and of course it coughs and dies in every puddle', 'cuts-out-wet'],
    ['horn dead, lights fine, brakes fine', 'horn-dead'],
    ['lights are fine but no click and nothing happens when I press start', 'start-dead'],
    ['petrol dripping from the carburettor', 'fuel-smell'],
    ['gasoline dripping from the carburetor', 'fuel-smell'],
    ['battery shows 13.0 V at idle and 13.0 V at high revs', 'battery-not-charging'],
    ['15.8 volts on the battery when I rev it', 'overcharging'],
  ])('%s', (text, symptomId) => {
    expect(first(text)).toBe(symptomId);
  });

  test('misspelled words are mended', () => {
    expect(first('hedlite dosent com on')).toBe('headlamp-out');
    expect(first('brak lever is spungy')).toBe('brake-spongy');
  });

  test('a long story with one relevant sentence', () => {
    const story =
      'Good morning. My daughter had a birthday on Saturday and we rode to the lake with the neighbors, a lovely day. ' +
      'On the way back we stopped for an ice cream. When I turn the key off the engine simply keeps running, I have to choke it. ' +
      'My husband says that is normal, but I do not believe him. Can you have a look on Thursday?';
    const { matches } = finder.find(story, { limit: 3 });
    expect(matches[0]?.symptomId).toBe('will-not-stop');
    expect(matches[0]?.words.join(' ')).toMatch(/keeps running|key off/);
  });
});

describe('out of scope', () => {
  test.each([
    'do you sell helmets',
    'my washing machine leaks',
    'what are your opening hours',
    'lovely weather today',
  ])('%s', (text) => {
    const found = finder.find(text, { limit: 5 });
    expect(found.matches).toEqual([]);
    expect(found.outOfScope?.kind).toBe('not-a-fault');
  });

  test('an electric drive is told so, an electric start is not one', () => {
    expect(
      finder.find('the hub motor of my e-scooter cuts out and shows a controller error', { limit: 5 })
        .outOfScope?.kind,
    ).toBe('electric-drive');
    expect(
      finder.find('electric start does nothing, no click, kick start works', { limit: 5 }).matches[0]
        ?.symptomId,
    ).toBe('start-dead');
  });

  test('what only a combustion engine has is never told to be an electric drive', () => {
    for (const text of [
      "electric starter doesn't work but kick does",
      'the self starter is dead, it has petrol and the kickstart fires it',
    ]) {
      const found = finder.find(text, { limit: 5 });
      expect(found.outOfScope, text).toBeUndefined();
      expect(found.matches[0]?.symptomId, text).toMatch(/^start-/);
    }
    expect(finder.find('my electric kick scooter has a dead hub motor', { limit: 5 }).outOfScope?.kind).toBe(
      'electric-drive',
    );
  });
});

// Everyday sentences from memory; what they mean is plain to who speaks the language.
describe('riders who write in another language', () => {
  test.each([
    ['Hupe geht nicht', 'horn-dead'],
    ['el freno delantero chirría mucho', 'brake-noise'],
    ['le moteur cale au ralenti', 'stalls-at-idle'],
    ['puzza di benzina', 'fuel-smell'],
    ['vaza óleo do motor', 'oil-leak'],
    ['klakson tidak bunyi', 'horn-dead'],
    ['horn nahi baj raha', 'horn-dead'],
  ])('%s', (text, symptomId) => {
    expect(first(text)).toBe(symptomId);
  });

  test.each(['¿a qué hora abren?', 'mein Auto springt nicht an'])('out of scope: %s', (text) => {
    expect(finder.find(text, { limit: 5 }).matches).toEqual([]);
  });
});

describe('answers', () => {
  test('have the form of the contract and words that stand in the text', () => {
    const text = 'Starter whirs, the engine does not turn. LIGHTS are ok!';
    const { matches } = finder.find(text, { limit: 8 });
    expect(matches.length).toBeGreaterThan(0);
    for (const match of matches) {
      expect(symptomMatch.parse(match)).toEqual(match);
      for (const word of match.words) expect(text).toContain(word);
    }
    expect(matches[0]?.words.join(' ')).toContain('whirs');
    expect(matches[0]?.why).toContain('whirs');
  });

  test('come best first, no more than asked, with shares that sum to one at most', () => {
    const { matches } = finder.find('it will not start', { limit: 4 });
    expect(matches.length).toBeLessThanOrEqual(4);
    const scores = matches.map(({ score }) => score);
    expect([...scores].sort((a, b) => b - a)).toEqual(scores);
    expect(scores.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(1.001);
  });

  test('the same question twice gives the same answer, and so does a second finder', () => {
    const small = smallBook();
    const other = createFinder(smallBook({ version: 'again' }), []);
    for (const text of ['fast clicks', 'one click', 'horn']) {
      const once = createFinder(small, []).find(text, { limit: 3 });
      expect(createFinder(smallBook({ outOfScope: ['hello'] }), [])).toBeDefined();
      expect(createFinder(small, []).find(text, { limit: 3 })).toEqual(once);
      expect(other.find(text, { limit: 3 })).toEqual(once);
    }
  });

  test('competing symptoms get the one question that separates them', () => {
    const found = finder.find('no pull uphill and it screams, fitted a new belt', { limit: 5 });
    const ids = found.matches.slice(0, 2).map(({ symptomId }) => symptomId);
    expect(ids).toContain('drive-slips');
    expect(found.question?.answers.map(({ symptomId }) => symptomId)).toEqual(expect.arrayContaining(ids));
    expect(
      finder.find('one single click when I press start, motor does not turn', { limit: 5 }).question,
    ).toBeUndefined();
  });

  test('values with units are handed back as they were read', () => {
    const { readings } = finder.find('11.9 V in the morning, drain 80 mA, 1,5 bar', { limit: 3 });
    expect(readings).toEqual([
      { text: '11.9 V', value: 11.9, unit: 'V' },
      { text: '80 mA', value: 80, unit: 'mA' },
      { text: '1,5 bar', value: 1.5, unit: 'bar' },
    ]);
  });
});

describe('any text', () => {
  test.each([
    ['empty', ''],
    ['spaces', '  \n\t '],
    ['punctuation', '?!?... --- ,,, ()'],
    ['emoji', '🛵💥😭'],
    ['another script', 'мотоцикл не заводится'],
    ['another script without spaces', '踏板车无法启动'],
    ['right to left', 'السكوتر لا يعمل'],
    ['a lone surrogate', '\ud83d start'],
  ])('%s gives an answer', (_, text) => {
    expect(() => finder.find(text, { limit: 8 })).not.toThrow();
  });

  test('nothing said, nothing found', () => {
    for (const text of ['', '   ', '?!', '🛵']) expect(finder.find(text, { limit: 8 }).matches).toEqual([]);
  });

  test('ten thousand characters', () => {
    const text = `${'I rode to the village and back. '.repeat(300)}The horn does not sound.`;
    expect(finder.find(text, { limit: 8 }).matches.length).toBeLessThanOrEqual(8);
    expect(() => finder.find('a'.repeat(10_000), { limit: 8 })).not.toThrow();
  });
});

describe('words the shop learned', () => {
  test('win for their text, and help similar texts', () => {
    const text = 'the wiggly thing does the wobble dance again';
    const taught = createFinder(book, [{ symptomId: 'horn-dead', text }]);
    expect(first(text)).not.toBe('horn-dead');
    expect(taught.find(text, { limit: 3 }).matches[0]?.symptomId).toBe('horn-dead');
    expect(taught.find(`${text}!`, { limit: 3 }).matches[0]?.symptomId).toBe('horn-dead');
  });

  test('win even over a plain phrase of the book and over being out of scope', () => {
    const plain = 'one click when I press the start button';
    const odd = 'do you sell bread';
    const taught = createFinder(book, [
      { symptomId: 'engine-noise', text: plain },
      { symptomId: 'brake-noise', text: odd },
    ]);
    expect(taught.find(plain, { limit: 3 }).matches[0]?.symptomId).toBe('engine-noise');
    expect(taught.find(odd, { limit: 3 }).matches[0]?.symptomId).toBe('brake-noise');
  });

  test('taught for two symptoms, the later one wins; undone, all is as before', () => {
    const text = 'she coughs like my uncle';
    const both = createFinder(book, [
      { symptomId: 'misfire', text },
      { symptomId: 'oil-leak', text },
    ]);
    expect(both.find(text, { limit: 3 }).matches[0]?.symptomId).toBe('oil-leak');
    expect(createFinder(book, []).find(text, { limit: 3 })).toEqual(finder.find(text, { limit: 3 }));
  });

  test('for a symptom that is gone from the book are left aside', () => {
    const taught = createFinder(smallBook(), [{ symptomId: 'no-such-symptom', text: 'one click' }]);
    expect(taught.find('one click', { limit: 3 }).matches[0]?.symptomId).toBe('start-click');
  });
});

describe('books of other sizes', () => {
  test('an empty book finds nothing', () => {
    const empty = smallBook({ symptoms: new Map(), phrases: new Map(), outOfScope: [], electricDrive: [] });
    expect(createFinder(empty, []).find('one click', { limit: 3 }).matches).toEqual([]);
  });

  test('a book without texts out of scope rejects nothing it knows words of', () => {
    const open = createFinder(smallBook({ outOfScope: [], electricDrive: [] }), []);
    expect(open.find('one click', { limit: 3 }).matches[0]?.symptomId).toBe('start-click');
  });

  test('thousands of symptoms are told apart by their words', () => {
    const template = [...smallBook().symptoms.values()][0] as Book['symptoms'] extends ReadonlyMap<
      unknown,
      infer S
    >
      ? S
      : never;
    const names = Array.from(
      { length: 1000 },
      (_, i) => `fault${String.fromCharCode(97 + (i % 26))}${i} of unit${i % 97}`,
    );
    const big = smallBook({
      symptoms: new Map(
        names.map((title, i) => [
          `s-${i}` as never,
          { ...template, id: `s-${i}` as never, title, meaning: title },
        ]),
      ),
      phrases: new Map(),
    });
    const many = createFinder(big, []);
    expect(many.find('faultd3 of unit3', { limit: 3 }).matches[0]?.symptomId).toBe('s-3');
  });
});
