import type { PricedOptionView, QuoteView } from '../../api/contract.ts';
import { moneyWords } from '../words/money.ts';
import { payerWords } from './quote-labels.ts';
import styles from './quotes.module.css';

interface Props {
  quote: QuoteView;
  option: PricedOptionView;
}

/** The lines of one option with what each costs, then the tax and the total. */
export function QuoteTable({ quote, option }: Props) {
  const rows = option.lines.flatMap((priced) => {
    const line = quote.lines.find(({ lineId }) => lineId === priced.lineId);
    return line ? [{ line, priced }] : [];
  });
  const taxes = option.byPayer.flatMap(({ payer, taxes: sums }) => sums.map((sum) => ({ ...sum, payer })));
  const span = 3;
  return (
    <table className={styles.table}>
      <caption>{option.title || 'Lines'}</caption>
      <thead>
        <tr>
          <th scope="col">Line</th>
          <th scope="col" className={styles.right}>
            Quantity
          </th>
          <th scope="col" className={styles.right}>
            Each
          </th>
          <th scope="col" className={styles.right}>
            Before tax
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ line, priced }) => (
          <tr key={line.lineId}>
            <th scope="row">
              {line.words}
              <span className={styles.soft}>
                {line.partNumber ? ` ${line.partNumber}` : ''}
                {line.discountPercent ? ` · less ${line.discountPercent} %` : ''}
                {payerWords[line.payer] ? ` · ${payerWords[line.payer]}` : ''}
              </span>
              {line.safety ? <b> · safety</b> : null}
            </th>
            <td className={styles.right}>
              {line.minutes === null ? line.quantity : `${line.minutes} min`}
              {line.kind === 'labor' && line.minutes === null ? ' h' : ''}
            </td>
            <td className={styles.right}>
              {line.unitPrice}
              {line.kind === 'labor' ? ' an hour' : ''}
            </td>
            <td className={styles.right}>{moneyWords(priced.net)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        {option.discount.amount > 0 ? (
          <tr>
            <th scope="row" colSpan={span}>
              Discount, taken off above
            </th>
            <td className={styles.right}>{moneyWords(option.discount)}</td>
          </tr>
        ) : null}
        {taxes.map((sum) => (
          <tr key={`${sum.payer} ${sum.title} ${sum.percent}`}>
            <th scope="row" colSpan={span}>
              {sum.title} {sum.percent} % on {moneyWords(sum.base)}
              {payerWords[sum.payer] ? `, ${payerWords[sum.payer]}` : ''}
            </th>
            <td className={styles.right}>{moneyWords(sum.tax)}</td>
          </tr>
        ))}
        {option.deposits.amount === 0 ? null : (
          <tr>
            <th scope="row" colSpan={span}>
              Deposits for old parts
            </th>
            <td className={styles.right}>{moneyWords(option.deposits)}</td>
          </tr>
        )}
        <tr className={styles.total}>
          <th scope="row" colSpan={span}>
            Total for the customer
          </th>
          <td className={styles.right}>{moneyWords(option.customer.total)}</td>
        </tr>
        {option.customer.cash.amount === option.customer.total.amount ? null : (
          <tr>
            <th scope="row" colSpan={span}>
              In cash
            </th>
            <td className={styles.right}>{moneyWords(option.customer.cash)}</td>
          </tr>
        )}
        {option.prepaid ? (
          <tr>
            <th scope="row" colSpan={span}>
              Before we start
            </th>
            <td className={styles.right}>{moneyWords(option.prepaid.ahead)}</td>
          </tr>
        ) : null}
      </tfoot>
    </table>
  );
}
