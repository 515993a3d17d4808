import { useState } from 'react';
import type { Settings } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { Waiting } from '../pieces/empty.tsx';
import { Field } from '../pieces/field.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { say } from '../session/notices.ts';
import { useRead } from '../session/use-read.ts';
import { useWrite } from '../session/use-write.ts';
import { moneyWords } from '../words/money.ts';
import { QuoteRules } from './quote-rules.tsx';
import styles from './settings-page.module.css';
import { ShopLogo } from './shop-logo.tsx';

const changes = ['shop.settings', 'shop.status', 'quotes.estimate', 'quotes.get'] as const;

type Texts = Record<keyof Settings, string>;
const textsOf = (settings: Settings): Texts => ({
  shopName: settings.shopName,
  address: settings.address,
  phone: settings.phone,
  currency: settings.currency,
  laborRate: settings.laborRate,
  diagnosisFee: settings.diagnosisFee,
  comebackDays: String(settings.comebackDays),
  comebackKm: String(settings.comebackKm),
  technicians: settings.technicians.join('\n'),
});
const settingsOf = (texts: Texts): Settings => ({
  ...texts,
  laborRate: texts.laborRate.trim().replace(',', '.'),
  diagnosisFee: texts.diagnosisFee.trim().replace(',', '.'),
  currency: texts.currency.trim().toUpperCase(),
  comebackDays: Number(texts.comebackDays),
  comebackKm: Number(texts.comebackKm),
  technicians: texts.technicians
    .split('\n')
    .map((name) => name.trim())
    .filter(Boolean),
});

/** How an amount looks in a currency: shows how many digits it has after the point. */
function currencyHint(typed: string): string {
  const code = typed.trim().toUpperCase();
  return /^[A-Z]{3}$/.test(code)
    ? `Amounts look like ${moneyWords({ amount: 123456, currency: code })}. Prices that stand are not converted.`
    : 'Three letters, such as USD or EUR.';
}

function SettingsForm({ settings }: { settings: Settings }) {
  const [texts, setTexts] = useState(() => textsOf(settings));
  const save = useWrite('shop.settings', changes);
  const field = (key: keyof Texts, label: string, hint?: string) => (
    <Field label={label} hint={hint}>
      {(ids) => (
        <input
          {...ids}
          value={texts[key]}
          onChange={(event) => setTexts((before) => ({ ...before, [key]: event.target.value }))}
        />
      )}
    </Field>
  );
  const send = async (): Promise<void> => {
    const kept = await save.run({ set: settingsOf(texts) });
    if (!kept) return;
    setTexts(textsOf(kept));
    say('Saved.', { label: 'Undo', run: () => void save.run({ set: settings }) });
  };
  return (
    <form
      className={styles.form}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      {field('shopName', 'Name of the shop')}
      {field('phone', 'Phone')}
      <Field label="Address" wide>
        {(ids) => (
          <textarea
            {...ids}
            rows={2}
            value={texts.address}
            onChange={(event) => setTexts((before) => ({ ...before, address: event.target.value }))}
          />
        )}
      </Field>
      {field('currency', 'Currency', currencyHint(texts.currency))}
      {field('laborRate', 'Labor rate an hour')}
      {field('diagnosisFee', 'Diagnosis fee')}
      {field('comebackDays', 'A comeback is within, days')}
      {field('comebackKm', 'or within, km')}
      <Field label="Technicians, one a line" wide>
        {(ids) => (
          <textarea
            {...ids}
            rows={4}
            value={texts.technicians}
            onChange={(event) => setTexts((before) => ({ ...before, technicians: event.target.value }))}
          />
        )}
      </Field>
      <div className={styles.end}>
        <ProblemNote problem={save.problem} />
      </div>
      <div className={styles.end}>
        <Button look="main" type="submit" disabled={save.isBusy}>
          Save
        </Button>
      </div>
    </form>
  );
}

/** Name, rates and windows of the shop, its picture, and how its quotes are counted. */
export function SettingsPage() {
  const settings = useRead('shop.settings', {});
  const terms = useRead('quotes.terms', {});
  return (
    <>
      <h1>The shop</h1>
      {settings.isPending ? <Waiting what="Getting the settings" /> : null}
      <ProblemNote problem={settings.error} onRetry={() => void settings.refetch()} />
      {settings.data ? <SettingsForm settings={settings.data} /> : null}
      <h2 className={styles.title}>Quotes</h2>
      <ShopLogo />
      <ProblemNote problem={terms.error} onRetry={() => void terms.refetch()} />
      {terms.data && settings.data ? (
        <QuoteRules key={settings.data.currency} terms={terms.data} currency={settings.data.currency} />
      ) : null}
    </>
  );
}
