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
    words: wordsFor(likeliest, low, high, worst, fee),
    likeliest,
    low,
    high,
    worst: worst && { causeId: worst.cause.causeId, title: worst.cause.title, price: worst.price },
    diagnosisFee: fee,
    unlisted,
  };
}

function wordsFor(
  likeliest: Estimate['likeliest'],
  low: Money,
  high: Money | null,
  worst: { cause: PossibleCause; price: Money } | null,
  fee: Money,
): string {
  const first = likeliest[0];
  if (!first)
    return `Diagnosis costs ${moneyWords(fee)}; before that nothing can be said. This is an estimate, not a quote.`;
  const range =
    high === null
      ? `from ${moneyWords(low)}, and nobody can name the upper end yet`
      : low.amount === high.amount
        ? `about ${moneyWords(low)}`
        : `between ${moneyWords(low)} and ${moneyWords(high)}`;
  const most =
    worst && worst.price.amount > (high?.amount ?? low.amount)
      ? ` At worst (${worst.cause.title.toLowerCase()}) it is ${moneyWords(worst.price)}.`
      : '';
  return `Most likely: ${first.title.toLowerCase()}. The repair would cost ${range}.${most} Finding out costs ${moneyWords(fee)}. This is an estimate, not a quote.`;
}
