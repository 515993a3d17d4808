export {
  attributeWords,
  type ComparedAttribute,
  compareAttributes,
  contradiction,
  neverInstead,
} from './attributes.ts';
export { closeness } from './closeness.ts';
export {
  type Certainty,
  certainties,
  type Fit,
  type FitAnswer,
  fitParts,
  type NearMiss,
} from './fit-parts.ts';
export { type GtinRead, gtinCheckDigit, readGtin } from './gtin.ts';
export { attributeFault, attributesOfKind, type KindAttribute } from './kind-attributes.ts';
export { keysFor, partKey } from './number.ts';
export type * from './part.ts';
export * from './price-list/index.ts';
export { type Replacement, refuseCircle, replacedBy, resolveReplacement } from './supersession.ts';
export {
  decodeVin,
  frameRangeFault,
  isInFrameRange,
  modelYears,
  type VinRead,
  vinCheckDigit,
} from './vin.ts';
