import { type RawBuilder, sql } from 'kysely';
import type { Edge } from './month-reach.ts';

type Int = RawBuilder<number>;

/**
 * Year × 12 + month (0 = January) of an instant on the clock of the shop, in whole-number arithmetic that every engine
 * knows (days to civil date, H. Hinnant, chrono-compatible low-level date algorithms).
 */
export function monthOf(ms: Int, offset: Int): Int {
  const days = sql<number>`((${ms} + coalesce(${offset}, 0) * 60000) / 86400000 + 719468)`;
  const dayOfEra = sql<number>`(${days} % 146097)`;
  const yearOfEra = sql<number>`((${dayOfEra} - ${dayOfEra} / 1460 + ${dayOfEra} / 36524 - ${dayOfEra} / 146096) / 365)`;
  const dayOfYear = sql<number>`(${dayOfEra} - (365 * ${yearOfEra} + ${yearOfEra} / 4 - ${yearOfEra} / 100))`;
  return sql<number>`(${days} / 146097 * 4800 + ${yearOfEra} * 12 + (5 * ${dayOfYear} + 2) / 153 + 2)`;
}

export const closingMonth = monthOf(sql<number>`concerns.closed_ms`, sql<number>`concerns.closed_offset`);

/** The month of closings of an edge: worked out only where it is not one for all. */
export const monthIn = (edge: Partial<Edge>): Int =>
  edge.month === undefined ? closingMonth : sql<number>`${sql.lit(edge.month)}`;
