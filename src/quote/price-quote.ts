import { Decimal } from 'decimal.js';
import { Problem, quoted } from '../problem.ts';
import { allocate, cashTotal, toWhole } from './exact.ts';
import { type Amount, amount, currencyDigits, laborAmount } from './money.ts';
import {
  type Payer,
  payers,
  type QuoteBody,
  type QuoteLine,
  type QuoteTerms,
  type TaxRate,
} from './quote-form.ts';

/** Everything in whole minor units of the quote's currency. */
export interface PricedLine {
  readonly lineId: string;
  /** Quantity times unit price, rounded. */
  readonly gross: number;
  /** Of the line and its share of the discount on the whole; at least 0. */
  readonly discount: number;
  /** Gross less discount: what is taxed. */
  readonly net: number;
  /** Where tax is rounded per line; else its share of the document's tax. */
  readonly tax: number;
}

export interface TaxSum {
  readonly taxRateId: string;
  readonly title: string;
  readonly percent: string;
  readonly base: number;
  readonly tax: number;
}

export interface PayerTotal {
  readonly payer: Payer;
  readonly net: number;
  readonly taxes: readonly TaxSum[];
  readonly tax: number;
  readonly total: number;
}

export interface PricedQuote {
  readonly currency: string;
  readonly lines: readonly PricedLine[];
  readonly gross: number;
  readonly discount: number;
  readonly net: number;
  readonly tax: number;
  /** Deposits for old parts, given back with them; part of `net`. */
  readonly deposits: number;
  readonly total: number;
  readonly byPayer: readonly PayerTotal[];
  /** What the customer pays, by card or transfer, and in cash. */
  readonly customer: { readonly total: number; readonly cash: number };
}

const hundred = new Decimal(100);

function rateOf(terms: QuoteTerms, line: QuoteLine, field: string): TaxRate | null {
  if (line.taxRateId === null) return null;
  const rate = terms.taxRates.find((one) => one.id === line.taxRateId);
  if (!rate)
    throw new Problem(
      'bad-input',
      `${field}.taxRateId: there is no tax rate ${quoted(line.taxRateId)}; there are: ${terms.taxRates.map((one) => one.id).join(', ') || 'none'}.`,
      { field: `${field}.taxRateId` },
    );
  return rate;
}

/** @throws Problem bad-input outside of 0 to 100 */
function percentOf(text: string | null, field: string): Amount {
  const percent = amount(text ?? '0', field);
  if (percent.lt(0) || percent.gt(100))
    throw new Problem('bad-input', `${field}: from 0 to 100, ${quoted(text)} was given.`, { field });
  return percent;
}

/** The lines of one option: those of every option, and its own. */
export const linesOfOption = (body: QuoteBody, optionId: string | null): QuoteLine[] =>
  body.lines.filter((line) => line.optionId === null || line.optionId === optionId);

/**
 * Prices lines exactly: amounts per line rounded half away from zero to the currency's smallest unit, discounts before
 * tax, tax per line or once per rate and payer (each payer gets a bill of its own), nothing lost between lines and sums.
 * @throws Problem bad-input naming the line and field; too-large
 */
export function priceLines(
  lines: readonly QuoteLine[],
  discountPercent: string | null,
  terms: QuoteTerms,
): PricedQuote {
  const scale = new Decimal(10).pow(currencyDigits(terms.currency));
  const whole = percentOf(discountPercent, 'discountPercent');
  const drafted = lines.map((line, index) => {
    const field = `lines[${index}]`;
    const unit = amount(line.unitPrice, `${field}.unitPrice`);
    // Minutes are charged exactly: a quarter of an hour and five minutes is no round number of hours.
    const exact =
      line.kind === 'labor' && line.minutes !== null
        ? laborAmount(unit, line.minutes)
        : amount(line.quantity, `${field}.quantity`).mul(unit);
    const gross = toWhole(exact.mul(scale));
    const own = toWhole(
      new Decimal(gross).mul(percentOf(line.discountPercent, `${field}.discountPercent`)).div(hundred),
    );
    return { line, gross, own, rate: rateOf(terms, line, field) };
  });

  // The discount on the whole is one rounded amount per payer, shared out over that payer's lines without losing a coin.
  const shared = drafted.map(() => 0);
  for (const payer of payers) {
    const places = drafted
      .map((one, place) => ({ ...one, place }))
      .filter((one) => one.line.payer === payer && one.line.kind !== 'deposit' && one.gross - one.own > 0);
    const base = places.reduce((sum, one) => sum + one.gross - one.own, 0);
    const parts = allocate(
      toWhole(new Decimal(base).mul(whole).div(hundred)),
      places.map((one) => one.gross - one.own),
    );
    for (const [index, { place }] of places.entries()) shared[place] = parts[index] as number;
  }

  const priced = drafted.map((one, place) => {
    const discount = one.own + (shared[place] as number);
    const net = one.gross - discount;
    const exactTax = one.rate
      ? new Decimal(net).mul(amount(one.rate.percent, 'percent')).div(hundred)
      : new Decimal(0);
    const tax: number = terms.taxPer === 'line' ? toWhole(exactTax, terms.taxRounding) : 0;
    return { ...one, discount, net, tax, exactTax };
  });

  const byPayer: PayerTotal[] = [];
  for (const payer of payers) {
    const own = priced.filter((one) => one.line.payer === payer);
    if (own.length === 0) continue;
    const taxes = terms.taxRates.flatMap((rate): TaxSum[] => {
      const taxed = own.filter((one) => one.rate?.id === rate.id);
      if (taxed.length === 0) return [];
      if (terms.taxPer === 'document') {
        const exact = taxed.reduce<Decimal>((all, one) => all.plus(one.exactTax), new Decimal(0));
        const tax = toWhole(exact, terms.taxRounding);
        const shares = allocate(
          tax,
          taxed.map((one) => Math.abs(one.net)),
        );
        for (const [index, one] of taxed.entries()) one.tax = shares[index] as number;
      }
      return [
        {
          taxRateId: rate.id,
          title: rate.title,
          percent: rate.percent,
          base: sum(taxed, (one) => one.net),
          tax: sum(taxed, (one) => one.tax),
        },
      ];
    });
    const net = sum(own, (one) => one.net);
    const tax = sum(taxes, (one) => one.tax);
    byPayer.push({ payer, net, taxes, tax, total: net + tax });
  }

  const customer = byPayer.find((one) => one.payer === 'customer')?.total ?? 0;
  return {
    currency: terms.currency,
    lines: priced.map(({ line, gross, discount, net, tax }) => ({
      lineId: line.lineId,
      gross,
      discount,
      net,
      tax,
    })),
    gross: sum(priced, (one) => one.gross),
    discount: sum(priced, (one) => one.discount),
    net: sum(priced, (one) => one.net),
    tax: sum(byPayer, (one) => one.tax),
    deposits: sum(
      priced.filter((one) => one.line.kind === 'deposit'),
      (one) => one.net,
    ),
    total: sum(byPayer, (one) => one.total),
    byPayer,
    customer: {
      total: customer,
      cash: terms.cashStep === null ? customer : cashTotal(customer, terms.cashStep),
    },
  };
}

const sum = <T>(list: readonly T[], of: (one: T) => number): number =>
  list.reduce((total, one) => total + of(one), 0);

/** Prices one option of a quote; `null` for a quote without options. Lines the customer declined are left out. */
export function priceQuote(
  body: QuoteBody,
  optionId: string | null,
  declined: ReadonlySet<string> = new Set(),
): PricedQuote {
  return priceLines(
    linesOfOption(body, optionId).filter((line) => !declined.has(line.lineId)),
    body.discountPercent,
    body.terms,
  );
}

export interface Prepaid {
  /** Minor units: what is paid ahead, never more than the total. */
  readonly ahead: number;
  readonly rest: number;
}

/** What is paid ahead of a total and what is left; null where nothing is asked for. */
export function prepaid(body: QuoteBody, total: number): Prepaid | null {
  if (body.prepay === null) return null;
  const scale = new Decimal(10).pow(currencyDigits(body.terms.currency));
  const asked = toWhole(amount(body.prepay, 'prepay').mul(scale));
  if (asked <= 0) return null;
  const ahead = Math.min(asked, Math.max(total, 0));
  return { ahead, rest: total - ahead };
}
