import { Problem, quoted } from '../problem.ts';
import { amount, laborAmount, type QuoteLine } from '../quote/index.ts';
import type { JobCard } from '../store/index.ts';
import type { CauseId, ModelId } from '../terms.ts';
import type { NewQuoteLine, QuoteSettings, Settings } from './contract.ts';
import type { Desk } from './desk.ts';
import { shopSide } from './part-views.ts';
import { fitsFor } from './parts.ts';
import { vehicleOr404 } from './people.ts';

/** Lines of a quote, as typed and as written from causes. */

export function lineOf(desk: Desk, given: NewQuoteLine, terms: QuoteSettings): QuoteLine {
  return {
    lineId: given.lineId ?? desk.newId(),
    kind: given.kind,
    words: given.words,
    partNumber: given.partNumber || null,
    quantity: given.quantity ?? '1',
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
  };
}

/** Hours of labor for minutes, to the hundredth. */
const hoursOf = (minutes: number): string => laborAmount(amount('1', 'hours'), minutes).toFixed(2);

/** Labor and parts for the repair of each cause: a fitting part on the shelf first, else the surest, else the book's price. */
export async function linesFromCauses(
  desk: Desk,
  card: JobCard | null,
  causeIds: readonly string[],
  terms: QuoteSettings,
  settings: Settings,
): Promise<QuoteLine[]> {
  const { book } = await desk.book();
  const vehicle = card?.job.vehicle_id ? await vehicleOr404(desk, card.job.vehicle_id) : null;
  const model = vehicle?.model_id ? book.models.get(vehicle.model_id as ModelId) : undefined;
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
      lines.push(lineOf(desk, { ...given, safety }, terms));
    };
    add({
      kind: 'labor',
      words: cause.repair.title,
      quantity: hoursOf(cause.repair.minutes),
      unitPrice: settings.laborRate,
    });
    for (const need of cause.repair.parts) {
      const kind = book.partKinds.get(need.kind);
      const title = kind?.title ?? need.kind;
      const found = model
        ? await bestFit(
            desk,
            {
              modelId: model.id,
              familyId: model.familyId,
              year: vehicle?.year ?? null,
              frame: vehicle?.frame ?? null,
            },
            need.kind,
            need.quantity,
          )
        : null;
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
      if (found.core !== null)
        add({
          kind: 'deposit',
          words: `Deposit for the old part (${title.toLowerCase()}), given back with it`,
          partNumber: found.number,
          quantity,
          unitPrice: found.core,
        });
    }
  }
  return lines;
}

type MachineAsked = Parameters<typeof fitsFor>[1];

async function bestFit(desk: Desk, machine: MachineAsked, kind: string, quantity: number) {
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
