export {
  type Estimate,
  type EstimateTerms,
  estimate,
  type Money,
  type PossibleCause,
  priceOf,
} from './estimate.ts';
export { type Amount, amount, currencyDigits, laborAmount, moneyWords, toMinorUnits } from './money.ts';
