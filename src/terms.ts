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

/**
 * Minor-unit digits of currencies that do not have two (ISO 4217). A display library's digits must not be used: they
 * differ for currencies whose coins went out of use.
 */
const digitsByCode: Readonly<Record<string, number>> = Object.fromEntries([
  ...[
    'BIF',
    'CLP',
    'DJF',
    'GNF',
    'ISK',
    'JPY',
    'KMF',
    'KRW',
    'PYG',
    'RWF',
    'UGX',
    'UYI',
    'VND',
    'VUV',
    'XAF',
    'XOF',
    'XPF',
  ].map((code) => [code, 0] as const),
  ...['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'].map((code) => [code, 3] as const),
  ...['CLF', 'UYW'].map((code) => [code, 4] as const),
]);

/** Digits after the point that a currency's smallest unit stands for: 0 to 4 (ISO 4217). */
export const currencyDigits = (currency: string): number => digitsByCode[currency] ?? 2;

const knownCurrencies = new Set(Intl.supportedValuesOf('currency'));
/** Whether a code of three capital letters is, or once was, a currency (ISO 4217, as ECMA-402 lists it). */
export const isCurrency = (code: string): boolean => knownCurrencies.has(code);
