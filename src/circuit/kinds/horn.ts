import { fixedLoad } from './resistor.ts';

/** A horn as a load of fixed resistance. */
export const horn = fixedLoad('horn');
