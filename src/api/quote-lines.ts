import { keysFor, type Machine, partKey } from '../parts/index.ts';
import { Problem, quoted } from '../problem.ts';
import { amount, laborAmount, type QuoteLine } from '../quote/index.ts';
import { partsByIds, pricedByNumber } from '../store/index.ts';
import type { CauseId, ModelId } from '../terms.ts';
import type { NewQuoteLine, QuoteSettings, Settings } from './contract.ts';
import type { Desk } from './desk.ts';
import { shopSide } from './part-views.ts';
import { fitsFor } from './parts.ts';
import { modelOr404, vehicleOr404 } from './people.ts';

/** Lines of a quote, as typed and as written from causes. */

export function lineOf(desk: Desk, given: NewQuoteLine, terms: QuoteSettings): QuoteLine {
  return {
    lineId: given.lineId ?? desk.newId(),
    kind: given.kind,
    words: given.words,
    partNumber: given.partNumber || null,
    quantity:
      given.kind === 'labor' && typeof given.minutes === 'number'
        ? hoursOf(given.minutes)
        : (given.quantity ?? '1'),
    minutes: given.kind === 'labor' ? (given.minutes ?? null) : null,
    unitPrice: given.unitPrice,
    discountPercent: given.discountPercent ?? null,
    taxRateId:
      given.taxRateId === undefined
        ? given.kind === 'deposit'
          ? null
          : terms.usualTaxRateId
        : given.taxRateId,
    payer: given.payer ?? 'customer',
    optionId: given.optionId ?? null,
    isSafety: given.safety ?? false,
    causeId: given.causeId ?? null,
  };
}

/** Hours of labor for minutes, to the hundredth. */
const hoursOf = (minutes: number): string => laborAmount(amount('1', 'hours'), minutes).toFixed(2);

/** Labor and parts for the repair of each cause: a fitting part on the shelf first, else the surest, else the book's price. */
export async function linesFromCauses(
  desk: Desk,
  machine: Machine | null,
  causeIds: readonly string[],
  terms: QuoteSettings,
  settings: Settings,
): Promise<QuoteLine[]> {
  const { book } = await desk.book();
  const lines: QuoteLine[] = [];
  for (const [index, causeId] of causeIds.entries()) {
    const cause = book.causes.get(causeId as CauseId);
    if (!cause)
      throw new Problem('not-found', `causeIds[${index}]: the book has no cause ${quoted(causeId)}.`, {
        field: `causeIds[${index}]`,
        id: causeId,
      });
    const safety = cause.cautionIds.some((id) => book.cautions.get(id)?.doNotRide === true);
    const add = (given: NewQuoteLine): void => {
      lines.push(lineOf(desk, { ...given, safety, causeId }, terms));
    };
    add({
      kind: 'labor',
      words: cause.repair.title,
      minutes: cause.repair.minutes,
      unitPrice: settings.laborRate,
    });
    for (const need of cause.repair.parts) {
      const kind = book.partKinds.get(need.kind);
      const title = kind?.title ?? need.kind;
      const found = machine ? await bestFit(desk, machine, need.kind, need.quantity) : null;
      const price = found?.price;
      if (!found || !price || price.currency !== settings.currency) {
        add({
          kind: 'part',
          words: `${title} (usual price; part to be chosen)`,
          quantity: String(need.quantity),
          unitPrice: kind?.typicalPrice ?? '0',
        });
        continue;
      }
      const quantity = String(need.quantity * found.quantity);
      add({ kind: 'part', words: found.title, partNumber: found.number, quantity, unitPrice: price.text });
      if (found.core !== null) add(depositFor(title, found.number, quantity, found.core));
    }
  }
  return lines;
}

const depositFor = (
  title: string,
  partNumber: string,
  quantity: string,
  unitPrice: string,
): NewQuoteLine => ({
  kind: 'deposit',
  words: `Deposit for the old part (${title.toLowerCase()})`,
  partNumber,
  quantity,
  unitPrice,
});

/** The machine that a quote is for: the vehicle of its job, a vehicle, or a model; null where none is known. */
export async function machineFor(
  desk: Desk,
  vehicleId: string | null,
  modelId: string | undefined,
): Promise<Machine | null> {
  const { book } = await desk.book();
  const vehicle = vehicleId === null ? null : await vehicleOr404(desk, vehicleId);
  const known = vehicle?.model_id ?? modelId;
  if (known === undefined) return null;
  const model = modelId !== undefined ? modelOr404(book.models, known) : book.models.get(known as ModelId);
  return model
    ? {
        modelId: model.id,
        familyId: model.familyId,
        year: vehicle?.year ?? null,
        frame: vehicle?.frame ?? null,
      }
    : null;
}

/** A part as lines of a quote: what it costs, and the deposit for the old one. */
export async function linesForPart(
  desk: Desk,
  partNumber: string,
  quantity: number,
  currency: string,
): Promise<NewQuoteLine[]> {
  const { book } = await desk.book();
  const key = partKey(partNumber);
  const [row] = await partsByIds(desk.db, [key]);
  const [listed] = row ? [] : await pricedByNumber(desk.db, { keys: keysFor(partNumber) }, 1);
  const part =
    row ?? (listed && { id: listed.part_id, number: listed.number, title: listed.title, kind: null });
  if (!part)
    throw new Problem('not-found', `The catalog has no part ${quoted(partNumber)}.`, {
      field: 'partNumber',
      id: partNumber,
    });
  const price = (await shopSide(desk, [part.id])).priceText(part.id);
  const count = String(quantity);
  const kind = part.kind === null ? undefined : book.partKinds.get(part.kind);
  if (price?.currency === currency) {
    const line = {
      kind: 'part' as const,
      words: part.title,
      partNumber: part.number,
      quantity: count,
      unitPrice: price.text,
    };
    return price.core === null
      ? [line]
      : [line, depositFor(kind?.title ?? part.title, part.number, count, price.core)];
  }
  if (kind?.typicalPrice === undefined || Number(kind.typicalPrice) === 0)
    throw new Problem(
      'not-allowed-now',
      `${part.number} has no price in ${currency}. Import a price list, type its price in the catalog, or write it on the quote as a line with a price.`,
      { field: 'partNumber', id: part.number },
    );
  return [
    {
      kind: 'part',
      words: `${part.title} (usual price; to be asked)`,
      partNumber: part.number,
      quantity: count,
      unitPrice: kind.typicalPrice,
    },
  ];
}

async function bestFit(desk: Desk, machine: Machine, kind: string, quantity: number) {
  const { fits } = await fitsFor(desk, machine, [kind]);
  const side = await shopSide(
    desk,
    fits.map((fit) => fit.part.id),
  );
  const offered = fits
    .map((fit, order) => ({
      fit,
      order,
      onShelf: (side.stock(fit.part.id)?.free ?? 0) >= quantity * fit.quantity,
      price: side.priceText(fit.part.id),
    }))
    .filter((one) => one.price !== null);
  const [best] = offered.sort((a, b) => Number(b.onShelf) - Number(a.onShelf) || a.order - b.order);
  if (!best?.price) return null;
  const { fit, price } = best;
  return { number: fit.part.number, title: fit.part.title, quantity: fit.quantity, price, core: price.core };
}
