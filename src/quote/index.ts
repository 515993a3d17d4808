export {
  type AcceptedQuote,
  type AgainstQuoted,
  againstQuoted,
  type Booked,
  type PartAgainst,
} from './against-quoted.ts';
export {
  type Estimate,
  type EstimateTerms,
  estimate,
  type Money,
  type PossibleCause,
  priceOf,
} from './estimate.ts';
export { allocate, cashTotal, type Rounding, roundings, toWhole } from './exact.ts';
export { type Amount, amount, currencyDigits, laborAmount, moneyWords, toMinorUnits } from './money.ts';
export {
  linesOfOption,
  type PayerTotal,
  type Prepaid,
  type PricedLine,
  type PricedQuote,
  prepaid,
  priceLines,
  priceQuote,
  type TaxSum,
} from './price-quote.ts';
export * from './quote-form.ts';
export {
  declineStatement,
  declineWords,
  optionsOf,
  type PrintedAnswer,
  payerWords,
  type QuoteHead,
  quantityWords,
  quoteText,
} from './quote-words.ts';
