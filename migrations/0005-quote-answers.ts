import type { Migration } from './columns.ts';

/** What the customer said to each issue of a quote stays with it when the quote is changed and issued anew. */
export const quoteAnswers: Migration = {
  version: 5,
  name: 'quote-answers',
  async up(db, c) {
    await db.schema.alterTable('quote_issues').addColumn('answer', c.text).execute();
  },
};
