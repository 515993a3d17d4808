/** Concerns and visits of one month; year × 12 + month, January 0. */
export interface CountedMonth {
  readonly month: number;
  readonly concerns: number;
  readonly visits: number;
  readonly isPartial: boolean;
}

export interface MonthOfYear {
  /** 1 is January. */
  readonly month: number;
  readonly concerns: number;
  readonly visits: number;
  /** Null where no whole month of this name had a visit. */
  readonly per100: number | null;
}

/** The same months of all years together, January to December: the season. Months that are not whole would tilt it and are left out. */
export function throughYear(months: readonly CountedMonth[]): MonthOfYear[] {
  return Array.from({ length: 12 }, (_, place) => {
    const same = months.filter((one) => !one.isPartial && ((one.month % 12) + 12) % 12 === place);
    const concerns = same.reduce((sum, one) => sum + one.concerns, 0);
    const visits = same.reduce((sum, one) => sum + one.visits, 0);
    return { month: place + 1, concerns, visits, per100: visits === 0 ? null : (100 * concerns) / visits };
  });
}
