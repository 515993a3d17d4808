import { type Book, type Cause, existsOn, type Model } from '../book/index.ts';
import {
  type Attributes,
  type Fitment,
  gtinCheckDigit,
  type Part,
  partKey,
  type Supersession,
} from '../parts/index.ts';
import { createDice, type Dice } from './dice.ts';
import { suppliers } from './names.ts';
import { attributesOf, sameForAll, universalParts } from './part-attributes.ts';

/** What a supplier of the invented town asks for a part. Decimal strings, net. */
export interface DemoPrice {
  readonly partId: string;
  readonly supplierId: string;
  readonly price: string;
  readonly cost: string;
  readonly core: string | null;
}

export interface DemoStock {
  readonly partId: string;
  readonly onHand: number;
  readonly bin: string;
  readonly minimum: number;
}

export interface DemoCatalog {
  readonly suppliers: readonly { readonly id: string; readonly name: string }[];
  readonly parts: readonly Part[];
  readonly fitments: readonly Fitment[];
  readonly supersessions: readonly Supersession[];
  /** Groups of equal parts, by part id. */
  readonly groups: ReadonlyMap<string, string>;
  readonly prices: readonly DemoPrice[];
  readonly stock: readonly DemoStock[];
}

const alike = ['Ferrenholt', 'Oxtable', 'Brightmoor'] as const;
/** Kinds that other makers copy. */
const copied = new Set([
  'battery',
  'starter-relay',
  'drive-belt',
  'variator-roller-set',
  'spark-plug',
  'brake-pad-set',
  'brake-shoe-set',
  'regulator',
  'ignition-coil',
  'air-filter',
  'clutch',
  'stator',
  'oil-filter',
  'front-tire',
  'rear-tire',
]);
/** Old parts that are worth something to the supplier. */
const withCore = new Map([
  ['starter-motor', '12.00'],
  ['engine-control-unit', '40.00'],
  ['battery', '6.00'],
  ['abs-unit', '75.00'],
]);

/** GS1 keeps the prefix 952 for demonstrations and examples: no real article has such a number. */
const demoPrefix = '952';

/** Causes that ask for a kind of part. */
function causesByKind(book: Book): Map<string, Cause[]> {
  const found = new Map<string, Cause[]>();
  for (const cause of book.causes.values())
    for (const need of cause.repair.parts) {
      const list = found.get(need.kind) ?? [];
      list.push(cause);
      found.set(need.kind, list);
    }
  return found;
}

class Drawer {
  readonly parts: Part[] = [];
  readonly fitments: Fitment[] = [];
  readonly supersessions: Supersession[] = [];
  readonly groups = new Map<string, string>();
  readonly prices: DemoPrice[] = [];
  readonly stock: DemoStock[] = [];
  readonly #dice: Dice;
  readonly #taken = new Set<string>();
  #count = 0;

  constructor(dice: Dice) {
    this.#dice = dice;
  }

  #number(maker: string): string {
    for (;;) {
      const letters = maker.slice(0, 2).toUpperCase();
      const number = `${letters} ${this.#dice.whole(100, 989)}-${String(this.#dice.whole(0, 99_999)).padStart(5, '0')}`;
      if (this.#taken.has(partKey(number))) continue;
      this.#taken.add(partKey(number));
      return number;
    }
  }

  part(maker: string, kind: string, title: string, componentId: string | null, attributes: Attributes): Part {
    this.#count += 1;
    const number = this.#number(maker);
    const body = `${demoPrefix}${String(this.#count).padStart(9, '0')}`;
    const made: Part = {
      id: partKey(number),
      number,
      title,
      kind,
      componentId,
      maker,
      attributes,
      gtin: `${body}${gtinCheckDigit(body)}`.padStart(14, '0'),
    };
    this.parts.push(made);
    return made;
  }

  fit(partId: string, target: { modelId?: string; familyId?: string }, more: Partial<Fitment> = {}): void {
    this.fitments.push({
      partId,
      modelId: target.modelId ?? null,
      familyId: target.familyId ?? null,
      yearFrom: null,
      yearTo: null,
      frameFrom: null,
      frameTo: null,
      position: null,
      note: null,
      basis: 'demo',
      ...more,
    });
  }

  /** Prices at two of the four suppliers, and stock of what is used often. */
  sell(part: Part, typical: string, factor = 1): void {
    const first = this.#dice.whole(0, suppliers.length - 1);
    for (const step of [0, 1]) {
      const cents = Math.max(
        10,
        Math.round(Number(typical) * 100 * factor * (0.92 + 0.16 * this.#dice.unit())),
      );
      const cost = Math.round(cents * (0.62 + 0.1 * this.#dice.unit()));
      this.prices.push({
        partId: part.id,
        supplierId: supplierId(suppliers[(first + step) % suppliers.length] as string),
        price: (cents / 100).toFixed(2),
        cost: (cost / 100).toFixed(2),
        core: withCore.get(part.kind) ?? null,
      });
    }
    const isCheap = Number(typical) < 25;
    const onHand = this.#dice.chance(isCheap ? 0.75 : 0.35) ? this.#dice.whole(1, isCheap ? 12 : 3) : 0;
    const bin = `${'ABCDEFGH'[this.#dice.whole(0, 7)]}${this.#dice.whole(1, 6)}-${String(this.#dice.whole(1, 24)).padStart(2, '0')}`;
    this.stock.push({ partId: part.id, onHand, bin, minimum: isCheap ? 2 : 0 });
  }
}

export const supplierId = (name: string): string => name.toLowerCase().replace(/[^a-z0-9]+/g, '-');

/**
 * The invented catalog: for each kind of part the book's repairs ask for, a number per engine family whose machines can
 * have it, copies by other makers, replaced numbers, prices and stock. The same seed gives the same catalog.
 */
export function makeCatalog(book: Book, seed: number): DemoCatalog {
  const dice = createDice(seed);
  const drawer = new Drawer(dice);
  const causes = causesByKind(book);
  const families = [...book.families.values()];
  const models = [...book.models.values()];
  let place = 0;

  for (const kind of book.partKinds.values()) {
    const asking = causes.get(kind.id) ?? [];
    const componentId = asking[0]?.componentId ?? null;
    const mayHave = (model: Model): boolean =>
      asking.length === 0 || asking.some((cause) => existsOn(cause.on, model.traits));
    const universal = universalParts[kind.id];
    if (universal) {
      for (const one of universal) {
        const part = drawer.part(dice.pick(alike), kind.id, one.title, componentId, one.attributes);
        if (one.position !== null)
          for (const family of families)
            drawer.fit(part.id, { familyId: family.id }, { position: one.position });
        drawer.sell(part, kind.typicalPrice);
      }
      continue;
    }
    if (sameForAll.has(kind.id)) {
      const part = drawer.part(dice.pick(alike), kind.id, kind.title, componentId, {});
      for (const family of families) drawer.fit(part.id, { familyId: family.id });
      drawer.sell(part, kind.typicalPrice);
      continue;
    }
    for (const [order, family] of families.entries()) {
      const own = models.filter((model) => model.familyId === family.id && mayHave(model));
      const maker = own[0]?.maker;
      if (maker === undefined) continue;
      const lithium = kind.id === 'battery' ? own.filter((model) => model.traits.battery === 'lithium') : [];
      for (const group of [own.filter((model) => !lithium.includes(model)), lithium]) {
        if (group.length === 0) continue;
        place += 1;
        const isLithium = group === lithium;
        const attributes = attributesOf(kind.id, {
          place: order,
          displacement_cm3: family.displacement_cm3,
          lithium: isLithium,
        });
        const name = `${kind.title}, ${family.title.split(' ').slice(0, 2).join(' ')}`;
        const part = drawer.part(
          maker,
          kind.id,
          isLithium ? `${name}, lithium` : name,
          componentId,
          attributes,
        );
        fitGroup(drawer, part, group, place);
        drawer.sell(part, kind.typicalPrice, 0.8 + order * 0.07);
        supersede(drawer, part, place, kind.typicalPrice);
        if (!copied.has(kind.id)) continue;
        const copy = drawer.part(
          dice.pick(alike),
          kind.id,
          `${kind.title}, pattern part`,
          componentId,
          attributes,
        );
        drawer.sell(copy, kind.typicalPrice, 0.65);
        // Some copies are in the interchange list; the others must show by their attributes that they are equal.
        if (place % 2 === 0) for (const id of [part.id, copy.id]) drawer.groups.set(id, `ic-${part.id}`);
      }
    }
  }
  return {
    suppliers: suppliers.map((name) => ({ id: supplierId(name), name })),
    parts: drawer.parts,
    fitments: drawer.fitments,
    supersessions: drawer.supersessions,
    groups: drawer.groups,
    prices: drawer.prices,
    stock: drawer.stock,
  };
}

/** Every model by itself; now and then only from a frame number on, with the years told. */
function fitGroup(drawer: Drawer, part: Part, models: readonly Model[], place: number): void {
  for (const model of models) {
    const hasTurn = place % 17 === 0 && model.years.to - model.years.from > 4;
    drawer.fit(
      part.id,
      { modelId: model.id },
      hasTurn
        ? {
            yearFrom: model.years.from + 2,
            yearTo: model.years.to,
            note: 'after the change of the second year',
          }
        : { yearFrom: model.years.from, yearTo: model.years.to },
    );
  }
}

/** Every ninth number took the place of an older one, some of them twice over; every fortieth is a kit. */
function supersede(drawer: Drawer, part: Part, place: number, typical: string): void {
  if (place % 9 !== 0) return;
  const link = (old: Part, next: Part, quantity: number, note: string | null): void => {
    drawer.supersessions.push({ oldId: old.id, newId: next.id, quantity, note });
  };
  const older = drawer.part(part.maker, part.kind, part.title, part.componentId, part.attributes);
  for (const fitment of drawer.fitments.filter((one) => one.partId === part.id))
    drawer.fit(
      older.id,
      { modelId: fitment.modelId as string },
      { yearFrom: fitment.yearFrom, yearTo: fitment.yearTo },
    );
  link(older, part, 1, null);
  if (place % 18 === 0) {
    const oldest = drawer.part(part.maker, part.kind, part.title, part.componentId, part.attributes);
    link(oldest, older, 1, null);
  }
  if (place % 36 === 0) {
    const fittings = drawer.part(part.maker, 'fastener-kit', `Fitting kit for ${part.number}`, null, {});
    drawer.sell(fittings, String(Math.max(1, Math.round(Number(typical) * 0.1))));
    link(older, fittings, 1, 'always fitted together');
  }
}
