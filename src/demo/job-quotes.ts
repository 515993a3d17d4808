import type { Book, Cause } from '../book/index.ts';
import type { QuoteBody, QuoteLine } from '../quote/index.ts';
import type { CauseId } from '../terms.ts';
import type { Dice } from './dice.ts';
import type { JobParts, PricedPart } from './job-parts.ts';
import type { DemoJob, DemoShop } from './make-shop.ts';

/** A quote of the invented shop for one of its jobs. */
export interface DemoQuote {
  readonly job: number;
  readonly body: QuoteBody;
  readonly madeMs: number;
  /** Null while the customer has not answered. */
  readonly answer: {
    readonly atMs: number;
    readonly who: string;
    readonly how: 'in-person' | 'phone' | 'message';
  } | null;
}

const day = 86_400_000;
/** The share of the jobs of the last year and a half that were quoted before they were done. */
const quoted = 0.3;
const quotedDays = 550;
/** Looking for the cause is quoted with the repair. */
const searchMinutes = 10;

interface Terms {
  readonly laborRate: string;
  readonly currency: string;
  readonly untilMs: number;
}

function bodyFor(
  cause: Cause,
  parts: readonly (PricedPart & { readonly quantity: number })[],
  { laborRate, currency }: Terms,
): QuoteBody {
  const base = {
    discountPercent: null,
    taxRateId: null,
    payer: 'customer',
    optionId: null,
    isSafety: false,
  } as const;
  // Shops quote in steps of five minutes.
  const minutes = 5 * Math.ceil((cause.repair.minutes + searchMinutes) / 5);
  const labor: QuoteLine = {
    ...base,
    lineId: 'labor',
    kind: 'labor',
    words: cause.repair.title,
    partNumber: null,
    quantity: (minutes / 60).toFixed(2),
    minutes,
    unitPrice: laborRate,
    causeId: cause.id,
  };
  return {
    title: cause.repair.title,
    options: [],
    lines: [
      labor,
      ...parts.map(
        ({ part, price, quantity }, place): QuoteLine => ({
          ...base,
          lineId: `part-${place + 1}`,
          kind: 'part',
          words: part.title,
          partNumber: part.number,
          quantity: String(quantity),
          minutes: null,
          unitPrice: price.price,
          causeId: cause.id,
        }),
      ),
    ],
    discountPercent: null,
    note: '',
    validDays: 30,
    validUntil: null,
    prepay: null,
    forWhom: '',
    vehicleId: null,
    terms: { currency, taxRates: [], taxPer: 'document', taxRounding: 'half-away', cashStep: null },
  };
}

/** Open cards that have a quote: one that waits for a "yes", and those that went on after it. */
const openWithQuote = new Set(['awaiting-approval', 'waiting-for-parts', 'in-work', 'final-check']);

/** Quotes of a share of the jobs with one cause; what was booked in the end differs, as it does. */
export function drawQuotes(
  book: Book,
  shop: DemoShop,
  parts: JobParts,
  terms: Terms,
  dice: Dice,
): DemoQuote[] {
  const whoOf = (job: DemoJob): string =>
    shop.customers[shop.vehicles[job.vehicle]?.customer ?? 0]?.name ?? 'the customer';
  return shop.jobs.flatMap((job, place): DemoQuote[] => {
    const how = dice.pick(['phone', 'phone', 'message', 'in-person'] as const);
    const wait = dice.whole(5, 40) * 60_000;
    const isQuoted = dice.chance(quoted);
    if (job.closedMs === null) {
      const likely = openWithQuote.has(job.status) ? parts.likely(job) : null;
      if (!likely) return [];
      const madeMs = Math.min(job.openedMs + wait, terms.untilMs - 2 * wait);
      return [
        {
          job: place,
          body: bodyFor(likely.cause, [{ ...likely.found, quantity: likely.quantity }], terms),
          madeMs,
          answer: job.status === 'awaiting-approval' ? null : { atMs: madeMs + wait, who: whoOf(job), how },
        },
      ];
    }
    const cause = book.causes.get((job.causes[0]?.causeId ?? '') as CauseId);
    if (!isQuoted || !cause || job.openedMs < terms.untilMs - quotedDays * day) return [];
    const found = job.parts.map((need) => ({
      quantity: need.quantity,
      ...parts.find(job.vehicle, need.kind, need.supplier),
    }));
    if (!found.every((one) => one.part !== undefined)) return [];
    const madeMs = job.openedMs + wait;
    const lines = found as (PricedPart & { quantity: number })[];
    // Now and then a small part is forgotten in the quote, or one is fitted that nobody thought of.
    const named = lines.length > 1 && dice.chance(0.1) ? lines.slice(0, -1) : lines;
    return [
      {
        job: place,
        body: bodyFor(cause, named, terms),
        madeMs,
        answer: { atMs: madeMs + wait, who: whoOf(job), how },
      },
    ];
  });
}
