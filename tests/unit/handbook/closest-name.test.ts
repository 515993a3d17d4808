import { describe, expect, test } from 'vitest';
import { editDistance } from '../../../src/handbook/closest-name.ts';
import { closestName } from '../../../src/handbook/index.ts';

describe('edit distance', () => {
  // kitten/sitting and Saturday/Sunday: textbook examples (Jurafsky and Martin, Speech and Language Processing; value from memory);
  // the swapped neighbors are counted by hand.
  test.each([
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['relay', 'relya', 1],
    ['', 'abc', 3],
    ['abc', 'abc', 0],
    ['ca', 'abc', 3],
  ])('%s, %s', (a, b, distance) => {
    expect(editDistance(a, b)).toBe(distance);
    expect(editDistance(b, a)).toBe(distance);
  });
});

test('the closest name is one that could have been meant', () => {
  const known = ['starter-relay', 'start-button', 'stator'];
  expect(closestName('starter-rellay', known)).toBe('starter-relay');
  expect(closestName('relay-starter', known)).toBe('starter-relay');
  expect(closestName('Start_Button', known)).toBe('start-button');
  expect(closestName('windshield', known)).toBeUndefined();
  expect(closestName('x', [])).toBeUndefined();
});
