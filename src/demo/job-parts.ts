import { type Book, type Cause, candidateCauses, type Model } from '../book/index.ts';
import type { Fitment, Part } from '../parts/index.ts';
import type { DemoCatalog, DemoPrice } from './make-catalog.ts';
import type { DemoJob, DemoShop } from './make-shop.ts';

/** A part of the invented catalog with the price at which the shop buys and sells it. */
export interface PricedPart {
  readonly part: Part;
  readonly price: DemoPrice;
}

/** What an open card will need, as far as the shop can say. */
export interface LikelyRepair {
  readonly cause: Cause;
  readonly found: PricedPart;
  readonly quantity: number;
}

/** Finds the part of a kind that fits a vehicle of the invented shop, from the supplier who is asked for where he has one. */
export class JobParts {
  readonly #book: Book;
  readonly #shop: DemoShop;
  readonly #suppliers: ReadonlyMap<string, string>;
  readonly #byKind: ReadonlyMap<string, readonly Part[]>;
  readonly #prices: ReadonlyMap<string, readonly DemoPrice[]>;
  readonly #fitments: ReadonlyMap<string, readonly Fitment[]>;
  readonly #found = new Map<string, PricedPart | null>();

  constructor(book: Book, shop: DemoShop, catalog: DemoCatalog) {
    this.#book = book;
    this.#shop = shop;
    this.#suppliers = new Map(catalog.suppliers.map((one) => [one.name, one.id]));
    const replaced = new Set(catalog.supersessions.map((one) => one.oldId));
    this.#byKind = Map.groupBy(
      catalog.parts.filter((part) => !replaced.has(part.id)),
      (part) => part.kind,
    );
    this.#prices = Map.groupBy(catalog.prices, (one) => one.partId);
    this.#fitments = Map.groupBy(
      // A fitment that names frames is for the Counter to ask about.
      catalog.fitments.filter((one) => one.frameFrom === null && one.frameTo === null),
      (one) => one.partId,
    );
  }

  /** @returns null where the catalog has no such part with a price */
  find(vehicle: number, kind: string, supplier: string | null): PricedPart | null {
    const machine = this.#shop.vehicles[vehicle];
    const model = this.#book.models.get((machine?.modelId ?? '') as Model['id']);
    if (!machine || !model) return null;
    const key = `${model.id} ${machine.year} ${kind} ${supplier}`;
    const known = this.#found.get(key);
    if (known !== undefined) return known;
    const found = this.#search(model, machine.year, kind, supplier);
    this.#found.set(key, found);
    return found;
  }

  #search(model: Model, year: number, kind: string, supplier: string | null): PricedPart | null {
    const wanted = supplier === null ? undefined : this.#suppliers.get(supplier);
    let second: PricedPart | null = null;
    for (const part of this.#byKind.get(kind) ?? []) {
      const fits = (this.#fitments.get(part.id) ?? []).some(
        (one) =>
          (one.modelId === model.id || one.familyId === model.familyId) &&
          (one.yearFrom ?? year) <= year &&
          (one.yearTo ?? year) >= year,
      );
      if (!fits) continue;
      for (const price of this.#prices.get(part.id) ?? []) {
        if (wanted === undefined || price.supplierId === wanted) return { part, price };
        second ??= { part, price };
      }
    }
    return second;
  }

  /** On a card that is still open: the likeliest cause in the book whose first part the catalog has. */
  likely(job: DemoJob): LikelyRepair | null {
    const model = this.#book.models.get((this.#shop.vehicles[job.vehicle]?.modelId ?? '') as Model['id']);
    const symptom = this.#book.symptoms.get(job.symptomId);
    if (!model || !symptom) return null;
    const byChance = candidateCauses(this.#book, symptom, model.traits).toSorted((a, b) => b.of100 - a.of100);
    for (const { cause } of byChance) {
      const need = cause.repair.parts[0];
      const found = need && this.find(job.vehicle, need.kind, null);
      if (need && found) return { cause, found, quantity: need.quantity };
    }
    return null;
  }
}
