import type { PricedOptionView, QuoteView } from '../../api/contract.ts';
import { moneyWords } from '../words/money.ts';
import styles from './option-totals.module.css';
import { payerWords } from './quote-labels.ts';

type Payer = PricedOptionView['byPayer'][number]['payer'];
interface SumRow {
  readonly title: string;
  readonly cells: readonly string[];
  readonly isTotal?: boolean;
}

const ofPayer = (option: PricedOptionView, payer: Payer) => option.byPayer.find((one) => one.payer === payer);

/** What each option comes to, side by side: what the customer pays, and what others do. */
export function OptionTotals({ quote }: { quote: QuoteView }) {
  const { priced } = quote;
  const zero = { amount: 0, currency: quote.currency };
  const row = (title: string, of: (option: PricedOptionView) => { amount: number; currency: string }) => ({
    title,
    cells: priced.map((option) => moneyWords(of(option))),
  });
  const has = (of: (option: PricedOptionView) => boolean): boolean => priced.some(of);
  const taxes = [
    ...new Set(
      priced.flatMap(
        (option) => ofPayer(option, 'customer')?.taxes.map((tax) => `${tax.title} ${tax.percent} %`) ?? [],
      ),
    ),
  ];
  const rows: SumRow[] = [
    row('Before tax', (option) => ofPayer(option, 'customer')?.net ?? zero),
    ...(has((option) => option.discount.amount > 0)
      ? [row('Discounts in it', (option) => option.discount)]
      : []),
    ...taxes.map((title) =>
      row(
        title,
        (option) =>
          ofPayer(option, 'customer')?.taxes.find((tax) => `${tax.title} ${tax.percent} %` === title)?.tax ??
          zero,
      ),
    ),
    { ...row('The customer pays', (option) => option.customer.total), isTotal: true },
    ...(has((option) => option.customer.cash.amount !== option.customer.total.amount)
      ? [row('in cash', (option) => option.customer.cash)]
      : []),
    ...(has((option) => option.deposits.amount !== 0)
      ? [row('of this for old parts, given back with them', (option) => option.deposits)]
      : []),
    ...(has((option) => option.prepaid !== null)
      ? [
          row('before we start', (option) => option.prepaid?.ahead ?? zero),
          row('and when it is done', (option) => option.prepaid?.rest ?? option.customer.total),
        ]
      : []),
    ...(['warranty', 'goodwill', 'internal'] as const)
      .filter((payer) => has((option) => ofPayer(option, payer) !== undefined))
      .map((payer) => row(payerWords[payer], (option) => ofPayer(option, payer)?.total ?? zero)),
  ];
  return (
    <table className={styles.totals}>
      <caption className="unseen">What it comes to</caption>
      {priced.length > 1 ? (
        <thead>
          <tr>
            <td />
            {priced.map((option) => (
              <th key={option.optionId} scope="col" className={styles.right}>
                {option.title}
              </th>
            ))}
          </tr>
        </thead>
      ) : null}
      <tbody>
        {rows.map((each) => (
          <tr key={each.title} className={each.isTotal ? styles.total : undefined}>
            <th scope="row">{each.title}</th>
            {each.cells.map((cell, at) => (
              <td key={priced[at]?.optionId ?? 'all'} className={styles.right}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
