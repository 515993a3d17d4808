import type { KeyboardEvent } from 'react';
import type { QuoteView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { moneyWords } from '../words/money.ts';
import { type DraftLine, faultsOf } from './draft-lines.ts';
import styles from './line-row.module.css';
import { kindWords, payerChoices } from './quote-labels.ts';

export const lineFields = ['words', 'count', 'unitPrice', 'discount'] as const;
export type LineField = (typeof lineFields)[number];

interface Props {
  quote: QuoteView;
  line: DraftLine;
  number: number;
  options: readonly { readonly optionId: string; readonly title: string }[];
  onChange: (set: Partial<DraftLine>, atOnce?: boolean) => void;
  onMove: (by: 1 | -1, field: LineField) => void;
  onDown: (field: LineField) => void;
  onRemove: () => void;
}

/** One line of a draft: every cell is typed into; below it what is seldom changed. */
export function LineRow({ quote, line, number, options, onChange, onMove, onDown, onRemove }: Props) {
  const faults = faultsOf(line);
  const priced = quote.priced.flatMap((option) => option.lines).find(({ lineId }) => lineId === line.lineId);
  const isLabor = line.kind === 'labor';
  const onKeyDown = (event: KeyboardEvent<HTMLElement>, field: LineField): void => {
    if (event.key === 'Enter') {
      event.preventDefault();
      onDown(field);
    } else if (event.altKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      event.preventDefault();
      onMove(event.key === 'ArrowDown' ? 1 : -1, field);
    } else if (event.altKey && event.key === 'Delete') {
      event.preventDefault();
      onRemove();
    }
  };
  const cell = (field: LineField, label: string, wide = false) => (
    <label className={wide ? styles.words : styles.number}>
      <span className={styles.label}>{label}</span>
      <input
        aria-label={`Line ${number}: ${label}`}
        aria-invalid={faults[field] !== undefined}
        data-cell={`${line.lineId} ${field}`}
        inputMode={wide ? 'text' : 'decimal'}
        maxLength={wide ? 200 : 16}
        value={line[field]}
        onChange={(event) => onChange({ [field]: event.target.value })}
        onKeyDown={(event) => onKeyDown(event, field)}
        onFocus={wide ? undefined : (event) => event.target.select()}
      />
    </label>
  );
  return (
    <li className={styles.row} data-with-options={options.length > 0}>
      {cell('words', 'Words', true)}
      {cell('count', isLabor ? 'Minutes' : 'Quantity')}
      {cell('unitPrice', isLabor ? 'An hour' : 'Each')}
      {cell('discount', 'Less %')}
      <label className={styles.choice}>
        <span className={styles.label}>Paid by</span>
        <select
          aria-label={`Line ${number}: paid by`}
          value={line.payer}
          onChange={(event) => onChange({ payer: event.target.value as DraftLine['payer'] }, true)}
        >
          {payerChoices.map(([payer, words]) => (
            <option key={payer} value={payer}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <p className={styles.net}>
        <span className={styles.label}>Before tax</span>
        {priced ? moneyWords(priced.net) : ''}
      </p>
      <div className={styles.moves}>
        <Button
          size="row"
          look="quiet"
          aria-label={`Move line ${number} up`}
          onClick={() => onMove(-1, 'words')}
        >
          ↑
        </Button>
        <Button
          size="row"
          look="quiet"
          aria-label={`Move line ${number} down`}
          onClick={() => onMove(1, 'words')}
        >
          ↓
        </Button>
        <Button
          size="row"
          look="quiet"
          aria-label={`Remove line ${number}: ${line.words}`}
          onClick={onRemove}
        >
          Remove
        </Button>
      </div>
      <div className={styles.more}>
        <span>{kindWords[line.kind]}</span>
        {line.partNumber ? <code>{line.partNumber}</code> : null}
        {options.length > 0 ? (
          <label>
            in{' '}
            <select
              aria-label={`Line ${number}: in which option`}
              value={line.optionId ?? ''}
              onChange={(event) => onChange({ optionId: event.target.value || null }, true)}
            >
              <option value="">every option</option>
              {options.map((option) => (
                <option key={option.optionId} value={option.optionId}>
                  only {option.title}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        {quote.taxRates.length > 0 ? (
          <label>
            tax{' '}
            <select
              aria-label={`Line ${number}: tax`}
              value={line.taxRateId ?? ''}
              onChange={(event) => onChange({ taxRateId: event.target.value || null }, true)}
            >
              <option value="">none</option>
              {quote.taxRates.map((rate) => (
                <option key={rate.id} value={rate.id}>
                  {rate.title} {rate.percent} %
                </option>
              ))}
            </select>
          </label>
        ) : null}
        <label className={styles.safety}>
          <input
            type="checkbox"
            checked={line.safety}
            aria-label={`Line ${number}: safety repair`}
            onChange={(event) => onChange({ safety: event.target.checked }, true)}
          />
          safety repair
        </label>
        {Object.values(faults).map((fault) => (
          <strong key={fault} role="alert">
            {fault}
          </strong>
        ))}
      </div>
    </li>
  );
}
