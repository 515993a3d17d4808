import { describe, expect, it } from 'vitest';
import { estimate } from '../../../src/quote/index.ts';

// What an estimate must say is the program's own rule; the amounts are worked out by hand beside each check.

const terms = { currency: 'USD', laborRate: '60', diagnosisFee: '30' };
const cause = (causeId: string, title: string, probability: number, minutes: number, price = '0') => ({
  causeId,
  title,
  probability,
  minutes,
  parts: [{ price, quantity: 1 }],
});
const causes = [
  cause('a', 'Battery discharged', 0.5, 20),
  cause('b', 'Starter relay open', 0.2, 25, '17.77'),
  cause('c', 'CDI unit open', 0.1, 30, '80'),
  cause('d', 'Starter motor open', 0.08, 60, '120'),
  cause('e', 'Frame bent', 0.005, 600, '900'),
];

describe('the estimate before diagnosis', () => {
  it('says the three likeliest outcomes, the worst case, the fee, and that it is no quote', () => {
    // 20 min are 20.00; 25 min + 17.77 = 42.77; 30 min + 80 = 110.00; 60 min + 120 = 180.00.
    const told = estimate(causes, 0.115, terms);
    expect(told.words).toBe(
      'Most likely it is this: battery discharged (5 of 10 cases); the repair would cost about 20.00 USD. ' +
        'It could also be starter relay open (2 of 10 cases), about 42.77 USD; or CDI unit open (1 of 10 cases), about 110.00 USD. ' +
        'At worst it is starter motor open, 180.00 USD. ' +
        'It can also be something that is not in our book (1 of 10 cases). ' +
        'Finding out for certain costs 30.00 USD. This is an estimate, not a quote: you get a quote before we repair anything.',
    );
    expect(told.high).toEqual({ amount: 11_000, currency: 'USD' });
    // So unlikely that nobody is frightened with it.
    expect(told.worst?.causeId).toBe('d');
  });

  it('leaves the upper end open where more than a fifth is not in the book', () => {
    const told = estimate(causes, 0.31, terms);
    expect(told.high).toBeNull();
    expect(told.words).toContain(
      'In 3 of 10 cases it is something that is not in our book, so nobody can name the upper end yet.',
    );
    expect(estimate(causes, 0.2, terms).high).not.toBeNull();
  });

  it('without a cause of the book names the fee only', () => {
    const told = estimate([], 1, terms);
    expect(told.low).toEqual({ amount: 3000, currency: 'USD' });
    expect(told.words).toMatch(/^Finding out costs 30\.00 USD; .* not a quote\.$/);
  });
});
