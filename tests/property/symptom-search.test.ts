import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createFinder } from '../../src/symptom/index.ts';
import { smallBook } from '../unit/symptom/small-book.ts';

const finder = createFinder(smallBook(), []);
// fast-check prints its seed and the shortest failing text when a property fails.
const anyText = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 200 }),
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc
    .array(
      fc.constantFrom(
        'one',
        'click',
        'clicks',
        'horn',
        'not',
        'but',
        '12.6 V',
        '.',
        '?',
        '\n',
        '🛵',
        'ß',
        '’',
        'bread',
      ),
      {
        maxLength: 40,
      },
    )
    .map((parts) => parts.join(' ')),
);

test('any text gets an answer of sound form', () => {
  fc.assert(
    fc.property(anyText, fc.integer({ min: 1, max: 10 }), (text, limit) => {
      const found = finder.find(text, { limit });
      expect(found.matches.length).toBeLessThanOrEqual(limit);
      if (found.outOfScope) expect(found.matches).toEqual([]);
      let before = 1;
      for (const match of found.matches) {
        expect(match.score).toBeGreaterThanOrEqual(0);
        expect(match.score).toBeLessThanOrEqual(before);
        before = match.score;
        for (const word of match.words) expect(text.includes(word) && word.trim() !== '').toBe(true);
      }
      for (const { text: read, value } of found.readings ?? []) {
        expect(text).toContain(read);
        expect(Number.isFinite(value)).toBe(true);
      }
      if (found.question) {
        const ids = found.question.answers.map(({ symptomId }) => symptomId);
        expect(ids).toContain(found.matches[0]?.symptomId);
      }
    }),
    { numRuns: 400 },
  );
});

test('asking changes nothing: the same text gets the same answer whatever was asked between', () => {
  fc.assert(
    fc.property(anyText, anyText, (text, between) => {
      const once = finder.find(text, { limit: 3 });
      finder.find(between, { limit: 3 });
      expect(finder.find(text, { limit: 3 })).toEqual(once);
    }),
    { numRuns: 200 },
  );
});

test('words taught for a text win for that text', () => {
  const words = fc.array(
    fc.constantFrom('one', 'click', 'fast', 'horn', 'relay', 'press', 'silent', 'motor', 'seat'),
    {
      minLength: 2,
      maxLength: 8,
    },
  );
  fc.assert(
    fc.property(words, fc.constantFrom('start-click', 'start-chatter', 'horn-dead'), (parts, symptomId) => {
      const text = parts.join(' ');
      const taught = createFinder(smallBook(), [{ symptomId, text }]);
      expect(taught.find(text, { limit: 3 }).matches[0]?.symptomId).toBe(symptomId);
    }),
    { numRuns: 60 },
  );
});
