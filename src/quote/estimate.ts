import { amount, laborAmount, moneyWords, toMinorUnits } from './money.ts';

export interface Money {
  readonly amount: number;
  readonly currency: string;
}

/** A possible outcome as the estimate needs it. */
export interface PossibleCause {
  readonly causeId: string;
  readonly title: string;
  readonly probability: number;
  readonly minutes: number;
  readonly parts: readonly { readonly price: string; readonly quantity: number }[];
}

export interface EstimateTerms {
  readonly currency: string;
  /** Decimal string per hour. */
  readonly laborRate: string;
  /** Decimal string. */
  readonly diagnosisFee: string;
}

export interface Estimate {
  readonly words: string;
  readonly likeliest: {
    causeId: string;
    title: string;
    probability: number;
    price: Money;
    minutes: number;
  }[];
  readonly low: Money;
  readonly high: Money | null;
  readonly worst: { causeId: string; title: string; price: Money } | null;
  readonly diagnosisFee: Money;
  readonly unlisted: number;
}

/** Above this share the book knows too little to name an upper end. */
const openAbove = 0.2;
/** A cause less likely than this is not held up to a customer as the worst case. */
const leastWorst = 0.01;

/** Repair of one cause: labor plus parts, in minor units. */
export function priceOf(cause: PossibleCause, terms: EstimateTerms): Money {
  const labor = laborAmount(amount(terms.laborRate, 'laborRate'), cause.minutes);
  const total = cause.parts.reduce(
    (sum, part) => sum.plus(amount(part.price, 'price').mul(part.quantity)),
    labor,
  );
  return { amount: toMinorUnits(total, terms.currency), currency: terms.currency };
}

/**
 * What the trouble may cost, before diagnosis: the three likeliest outcomes, the worst case, the diagnosis fee, and the
 * share that is not in the book. An estimate, never a quote.
 * @param causes likeliest first, with probabilities that sum to 1 with `unlisted`
 */
export function estimate(causes: readonly PossibleCause[], unlisted: number, terms: EstimateTerms): Estimate {
  const priced = causes.map((cause) => ({ cause, price: priceOf(cause, terms) }));
  const likeliest = priced.slice(0, 3).map(({ cause, price }) => ({
    causeId: cause.causeId,
    title: cause.title,
    probability: cause.probability,
    price,
    minutes: cause.minutes,
  }));
  const fee: Money = {
    amount: toMinorUnits(amount(terms.diagnosisFee, 'diagnosisFee'), terms.currency),
    currency: terms.currency,
  };
  const amounts = likeliest.map((one) => one.price.amount);
  const low: Money = {
    amount: amounts.length > 0 ? Math.min(...amounts) : fee.amount,
    currency: terms.currency,
  };
  const isOpen = unlisted > openAbove || amounts.length === 0;
  const high: Money | null = isOpen ? null : { amount: Math.max(...amounts), currency: terms.currency };
  const worst = priced
    .filter(({ cause }) => cause.probability >= leastWorst)
    .reduce<(typeof priced)[number] | null>(
      (a, b) => (a === null || b.price.amount > a.price.amount ? b : a),
      null,
    );
  return {
    words: wordsFor(likeliest, high, worst, fee, unlisted),
    likeliest,
    low,
    high,
    worst: worst && { causeId: worst.cause.causeId, title: worst.cause.title, price: worst.price },
    diagnosisFee: fee,
    unlisted,
  };
}

/** A title inside a sentence: without its capital, unless it is an abbreviation. */
const inSentence = (title: string): string =>
  /^\p{Lu}\p{Ll}/u.test(title) ? title.charAt(0).toLowerCase() + title.slice(1) : title;

/** A probability as a person would say it at the counter. */
function chanceWords(share: number): string {
  const tenths = Math.round(share * 10);
  if (tenths >= 10) return 'nearly every case';
  return tenths === 0 ? 'fewer than 1 of 10 cases' : `${tenths} of 10 cases`;
}

/** What is said to the customer: outcomes with their prices, the worst, what nobody can know yet, and what finding out costs. */
function wordsFor(
  likeliest: Estimate['likeliest'],
  high: Money | null,
  worst: { cause: PossibleCause; price: Money } | null,
  fee: Money,
  unlisted: number,
): string {
  const [first, ...others] = likeliest;
  if (!first)
    return `Finding out costs ${moneyWords(fee)}; before that nothing can be said about the repair. This is an estimate, not a quote.`;
  const said = [
    `Most likely it is this: ${inSentence(first.title)} (${chanceWords(first.probability)}); the repair would cost about ${moneyWords(first.price)}.`,
  ];
  if (others.length > 0)
    said.push(
      `It could also be ${others.map((one) => `${inSentence(one.title)} (${chanceWords(one.probability)}), about ${moneyWords(one.price)}`).join('; or ')}.`,
    );
  const dearest = Math.max(...likeliest.map((one) => one.price.amount));
  if (worst && worst.price.amount > dearest)
    said.push(`At worst it is ${inSentence(worst.cause.title)}, ${moneyWords(worst.price)}.`);
  if (high === null)
    said.push(
      `In ${chanceWords(unlisted)} it is something that is not in our book, so nobody can name the upper end yet.`,
    );
  else if (unlisted >= 0.05)
    said.push(`It can also be something that is not in our book (${chanceWords(unlisted)}).`);
  said.push(
    `Finding out for certain costs ${moneyWords(fee)}. This is an estimate, not a quote: you get a quote before we repair anything.`,
  );
  return said.join(' ');
}
