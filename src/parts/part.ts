/** What decides whether a part fits: a number (its unit stands in the name) or a word. */
export type AttributeValue = number | string;
export type Attributes = Readonly<Record<string, AttributeValue>>;

export interface Part {
  /** The number as letters and digits only. */
  readonly id: string;
  /** The number as printed. */
  readonly number: string;
  readonly title: string;
  readonly kind: string;
  readonly componentId: string | null;
  readonly maker: string;
  readonly attributes: Attributes;
  /** Padded to 14 digits. */
  readonly gtin: string | null;
}

/** A part fits a model or an engine family, maybe only some years or frame numbers. */
export interface Fitment {
  readonly partId: string;
  readonly modelId: string | null;
  readonly familyId: string | null;
  readonly yearFrom: number | null;
  readonly yearTo: number | null;
  readonly frameFrom: string | null;
  readonly frameTo: string | null;
  readonly position: string | null;
  readonly note: string | null;
  readonly basis: string;
}

/** `newId` (this many of it) takes the place of `oldId`; several rows with the same old number are a kit. */
export interface Supersession {
  readonly oldId: string;
  readonly newId: string;
  readonly quantity: number;
  readonly note: string | null;
}

/** Everything the parts room decides from: the parts that may matter, and what ties them. */
export interface Catalog {
  readonly parts: ReadonlyMap<string, Part>;
  readonly fitments: readonly Fitment[];
  readonly supersessions: readonly Supersession[];
  /** Part id → group of equal parts. */
  readonly groups: ReadonlyMap<string, string>;
}

export interface Machine {
  readonly modelId: string;
  readonly familyId: string | null;
  readonly year: number | null;
  readonly frame: string | null;
}
