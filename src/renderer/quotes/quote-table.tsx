import type { PricedOptionView, QuoteView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { moneyWords } from '../words/money.ts';
import styles from './quotes.module.css';

const payerWords = {
  customer: '',
  warranty: 'paid by warranty',
  goodwill: 'goodwill',
  internal: 'paid by the shop',
} as const;

interface Props {
  quote: QuoteView;
  option: PricedOptionView;
  /** Takes a line off a quote that is still a draft. */
  onRemove?: (lineId: string) => void;
}

/** The lines of one option with what each costs, then the tax and the total. */
export function QuoteTable({ quote, option, onRemove }: Props) {
  const rows = option.lines.flatMap((priced) => {
    const line = quote.lines.find(({ lineId }) => lineId === priced.lineId);
    return line ? [{ line, priced }] : [];
  });
  const declined = new Set(quote.answer?.declinedLineIds);
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
          {onRemove ? <td /> : null}
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
              {declined.has(line.lineId) ? <b> · declined</b> : null}
            </th>
            <td className={styles.right}>
              {line.quantity}
              {line.kind === 'labor' ? ' h' : ''}
            </td>
            <td className={styles.right}>{line.unitPrice}</td>
            <td className={styles.right}>{moneyWords(priced.net)}</td>
            {onRemove ? (
              <td>
                <Button
                  size="row"
                  look="quiet"
                  aria-label={`Remove ${line.words}`}
                  onClick={() => onRemove(line.lineId)}
                >
                  Remove
                </Button>
              </td>
            ) : null}
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
            {onRemove ? <td /> : null}
          </tr>
        ) : null}
        {taxes.map((sum) => (
          <tr key={`${sum.payer} ${sum.title} ${sum.percent}`}>
            <th scope="row" colSpan={span}>
              {sum.title} {sum.percent} % on {moneyWords(sum.base)}
              {payerWords[sum.payer] ? `, ${payerWords[sum.payer]}` : ''}
            </th>
            <td className={styles.right}>{moneyWords(sum.tax)}</td>
            {onRemove ? <td /> : null}
          </tr>
        ))}
        {option.deposits.amount === 0 ? null : (
          <tr>
            <th scope="row" colSpan={span}>
              Deposits for old parts
            </th>
            <td className={styles.right}>{moneyWords(option.deposits)}</td>
            {onRemove ? <td /> : null}
          </tr>
        )}
        <tr className={styles.total}>
          <th scope="row" colSpan={span}>
            Total for the customer
          </th>
          <td className={styles.right}>{moneyWords(option.customer.total)}</td>
          {onRemove ? <td /> : null}
        </tr>
        {option.customer.cash.amount === option.customer.total.amount ? null : (
          <tr>
            <th scope="row" colSpan={span}>
              In cash
            </th>
            <td className={styles.right}>{moneyWords(option.customer.cash)}</td>
            {onRemove ? <td /> : null}
          </tr>
        )}
      </tfoot>
    </table>
  );
}
