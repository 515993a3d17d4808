/** Rows of the catalog, prices, stock and quotes. A part's id is its number as letters and digits only. */
export interface PartsTables {
  suppliers: SupplierRow;
  parts: PartRow;
  part_changes: PartChangeRow;
  fitments: FitmentRow;
  supersessions: SupersessionRow;
  interchange: { part_id: string; group_id: string };
  price_imports: PriceImportRow;
  price_rows: PriceRow;
  stock: StockRow;
  part_orders: PartOrderRow;
  stock_moves: StockMoveRow;
  held_parts: HeldPartRow;
  quotes: QuoteRow;
  quote_issues: QuoteIssueRow;
}

export interface SupplierRow {
  id: string;
  name: string;
  /** JSON: the column mapping that was last used. */
  mapping: string | null;
}

export interface PartRow {
  id: string;
  number: string;
  title: string;
  kind: string;
  component_id: string | null;
  maker: string;
  /** JSON: name with unit → number or word. */
  attributes: string;
  /** Padded to 14 digits. */
  gtin: string | null;
  folded: string;
  /** Counts up with every change of the part or of what ties it. */
  version: number;
  /** Set where the shop no longer uses it; it stays for the jobs and quotes that name it. */
  retired_ms: number | null;
  retired_offset: number | null;
  retired_why: string | null;
}

export interface PartChangeRow {
  seq: number;
  part_id: string;
  at_ms: number;
  at_offset: number;
  who: string;
  what: string;
}

export interface FitmentRow {
  id: string;
  part_id: string;
  model_id: string | null;
  family_id: string | null;
  year_from: number | null;
  year_to: number | null;
  frame_from: string | null;
  frame_to: string | null;
  position: string | null;
  note: string | null;
  basis: string;
}

export interface SupersessionRow {
  old_id: string;
  new_id: string;
  quantity: number;
  note: string | null;
}

export interface PriceImportRow {
  generation: number;
  supplier_id: string;
  state: 'running' | 'visible' | 'given-up';
  file: string;
  at_ms: number;
  at_offset: number;
  counts: string | null;
  /** Rows up to this number stand in the word index. */
  worded_to?: number;
}

export interface PriceRow {
  /** Given by the database. */
  seq?: number;
  part_id: string;
  supplier_id: string;
  generation: number;
  number: string;
  title: string;
  /** Decimal strings. */
  price: string;
  currency: string;
  cost: string | null;
  core: string | null;
  gtin: string | null;
  /** 1 where the title stands in the word index. */
  in_words?: number;
}

export interface StockRow {
  part_id: string;
  on_hand: number;
  reserved: number;
  on_order: number;
  bin: string | null;
  minimum: number;
}

export interface PartOrderRow {
  id: string;
  part_id: string;
  supplier_id: string;
  job_id: string | null;
  quantity: number;
  arrived: number;
  expected_ms: number | null;
  expected_offset: number | null;
  made_ms: number;
  made_offset: number;
}

export interface StockMoveRow {
  id: string;
  part_id: string;
  job_id: string | null;
  order_id: string | null;
  kind: 'count' | 'reserve' | 'release' | 'use' | 'return' | 'order' | 'arrive';
  quantity: number;
  at_ms: number;
  at_offset: number;
  note: string | null;
}

export interface HeldPartRow {
  id: string;
  job_id: string;
  part_id: string;
  supplier_id: string | null;
  why: 'core' | 'warranty';
  words: string;
  state: 'held' | 'sent' | 'settled';
  made_ms: number;
  made_offset: number;
}

export interface QuoteRow {
  id: string;
  number: number;
  version: number;
  job_id: string | null;
  state: 'draft' | 'issued' | 'accepted' | 'declined';
  /** JSON: options, lines, terms. */
  body: string;
  total: number;
  currency: string;
  /** JSON: who answered, when, how, with which lines. */
  answer: string | null;
  made_ms: number;
  made_offset: number;
}

export interface QuoteIssueRow {
  quote_id: string;
  seq: number;
  body: string;
  total: number;
  issued_ms: number;
  issued_offset: number;
  valid_until: string;
  /** JSON, as on the quote: what the customer said to this issue. */
  answer: string | null;
}
