import { type Db, readSettings, writeSetting } from '../store/index.ts';
import { type QuoteSettings, quoteTerms } from './contract.ts';

const key = 'quote.terms';

/** What a shop has before it says anything else: no tax, every coin in use. */
const unset: QuoteSettings = {
  taxRates: [],
  usualTaxRateId: null,
  taxPer: 'document',
  taxRounding: 'half-away',
  cashStep: null,
  validDays: 30,
  paper: 'A4',
  footWords: '',
};

export async function readQuoteTerms(db: Db): Promise<QuoteSettings> {
  const text = (await readSettings(db))[key];
  const saved = text === undefined ? {} : (JSON.parse(text) as Partial<QuoteSettings>);
  const read = quoteTerms.safeParse({ ...unset, ...saved });
  return read.success ? read.data : unset;
}

export async function writeQuoteTerms(db: Db, set: Partial<QuoteSettings>): Promise<QuoteSettings> {
  const given = Object.fromEntries(Object.entries(set).filter(([, value]) => value !== undefined));
  const next = { ...(await readQuoteTerms(db)), ...given } as QuoteSettings;
  await writeSetting(db, key, JSON.stringify(next));
  return next;
}
