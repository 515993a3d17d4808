import { describe, expect, test } from 'vitest';
import { editDistance, mender, soundOf } from '../../../src/symptom/mend-words.ts';
import { fold, stemOf, Tokenizer } from '../../../src/symptom/normalize-text.ts';
import { readValues } from '../../../src/symptom/read-values.ts';
import { valueWord } from '../../../src/symptom/value-words.ts';

const words = (text: string): string[] => new Tokenizer().tokens(text).map(({ word }) => word);

describe('one spelling', () => {
  test('case, accents, width and quotes are folded away', () => {
    expect(fold('ÇA Ｇｒｉｐ ’n')).toBe("ca grip 'n");
  });

  test('spellings of the two Englishes and of the trade meet', () => {
    expect(words('petrol carburettor tyre')).toEqual(words('gasoline carb tire'));
    expect(words('headlight indicator')).toEqual(words('head lamp turn signal'));
  });

  test('contractions and their careless forms are one negation', () => {
    expect(words("won't start")).toEqual(['not', 'start']);
    expect(words('wont start')).toEqual(['not', 'start']);
    expect(words('doesn’t start')).toEqual(['not', 'start']);
  });

  test('offsets point into the text as typed', () => {
    const text = 'Éclair: the HEADLIGHT won’t light';
    for (const token of new Tokenizer().tokens(text)) {
      expect(token.start).toBeLessThan(token.end);
      expect(text.slice(token.start, token.end).trim()).not.toBe('');
    }
  });

  test('inflected forms share a stem', () => {
    expect(new Set(['click', 'clicks', 'clicked', 'clicking'].map(stemOf)).size).toBe(1);
    expect(new Set(['stop', 'stops', 'stopped', 'stopping'].map(stemOf)).size).toBe(1);
    expect(stemOf('gas')).toBe('gas');
  });

  test('clauses end at stops and before “but”, not inside numbers', () => {
    const clauses = (text: string): number => (new Tokenizer().tokens(text).at(-1)?.clause ?? 0) + 1;
    expect(clauses('horn works but the lamp does not')).toBe(2);
    expect(clauses('battery at 12.6 volts')).toBe(1);
  });
});

describe('values', () => {
  // Bands: common practice, no source; 13.5 to 14.7 V is what a healthy 12 V charging system shows.
  test('volts that mean the same fall into one band', () => {
    expect(valueWord('13.0', 'v')).toBe(valueWord('13.2', 'volts'));
    expect(valueWord('13.0', 'v')).not.toBe(valueWord('14.2', 'v'));
    expect(valueWord('14.2', 'v')).not.toBe(valueWord('15.6', 'v'));
    expect(valueWord('14.2', '')).toBe(valueWord('14.2', 'v'));
    expect(valueWord('14', '')).not.toBe(valueWord('14', 'v'));
  });

  test('units in their usual spellings are read', () => {
    expect(readValues('12,6V 95 °C 1500 rpm 60 km/h 4.7 kΩ 30 psi')).toEqual([
      { text: '12,6V', value: 12.6, unit: 'V' },
      { text: '95 °C', value: 95, unit: '°C' },
      { text: '1500 rpm', value: 1500, unit: 'r/min' },
      { text: '60 km/h', value: 60, unit: 'km/h' },
      { text: '4.7 kΩ', value: 4.7, unit: 'kΩ' },
      { text: '30 psi', value: 30, unit: 'psi' },
    ]);
    expect(readValues('in 2018 I bought 2 scooters')).toEqual([]);
  });
});

describe('mending', () => {
  const mend = mender(
    new Map([
      ['click', 50],
      ['knob', 10],
      ['headlamp', 90],
      ['brake', 90],
      ['start', 90],
      ['button', 90],
      ['bright', 20],
    ]),
  );

  test('by sound, by a slip, by cutting', () => {
    expect(mend('clik')).toEqual(['click']);
    expect(mend('nob')).toEqual(['knob']);
    expect(mend('haedlamp')).toEqual(['headlamp']);
    expect(mend('startbutton')).toEqual(['start', 'button']);
  });

  test('leaves known words and other words alone', () => {
    expect(mend('click')).toEqual(['click']);
    expect(mend('elephant')).toEqual(['elephant']);
    expect(mend('не')).toEqual(['не']);
  });

  test('words that sound alike have one key', () => {
    expect(soundOf('charjer')).toBe(soundOf('charger'));
    expect(soundOf('brite')).toBe(soundOf('bright'));
    expect(soundOf('noch')).toBe(soundOf('notch'));
  });

  // kitten → sitting is the worked example of Wagner & Fischer's distance in most textbooks; ca → abc is 3 with restricted swaps.
  test('edit distance', () => {
    expect(editDistance('kitten', 'sitting')).toBe(3);
    expect(editDistance('ca', 'abc')).toBe(3);
    expect(editDistance('brkae', 'brake')).toBe(1);
    expect(editDistance('', 'abc')).toBe(3);
  });
});
