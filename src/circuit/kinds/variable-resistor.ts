import { followingResistance } from './sensor.ts';

/** A resistance set by hand or by a lever: its control has the positions. */
export const variableResistor = followingResistance('variable-resistor');
