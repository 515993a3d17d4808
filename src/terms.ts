/**
 * Units and ids as branded types: a number of volts cannot be handed over where minutes are meant.
 * Brands exist only for the compiler; at run time they are plain numbers and strings.
 */
declare const brand: unique symbol;
type Branded<T, B extends string> = T & { readonly [brand]: B };

export type Volts = Branded<number, 'V'>;
export type Ohms = Branded<number, 'ohm'>;
export type Amperes = Branded<number, 'A'>;
export type Minutes = Branded<number, 'min'>;
/** Integer number of the smallest coin of a currency. */
export type MinorUnits = Branded<number, 'minor units'>;
/** 0 to 1. */
export type Probability = Branded<number, 'probability'>;

export type JobId = Branded<string, 'job'>;
export type ConcernId = Branded<string, 'concern'>;
export type VehicleId = Branded<string, 'vehicle'>;
export type CustomerId = Branded<string, 'customer'>;
/** Kebab-case ids of the handbook. */
export type SymptomId = Branded<string, 'symptom'>;
export type CauseId = Branded<string, 'cause'>;
export type CheckId = Branded<string, 'check'>;
export type SpecId = Branded<string, 'spec'>;
export type ModelId = Branded<string, 'model'>;
export type FamilyId = Branded<string, 'engine family'>;
export type CircuitId = Branded<string, 'circuit'>;

export const volts = (n: number): Volts => n as Volts;
export const ohms = (n: number): Ohms => n as Ohms;
export const amperes = (n: number): Amperes => n as Amperes;
export const minutes = (n: number): Minutes => n as Minutes;
export const minorUnits = (n: number): MinorUnits => n as MinorUnits;
export const probability = (n: number): Probability => n as Probability;
