import { operatedContact } from './switch.ts';

/** A switch operated by temperature: its control has positions such as cold and hot. */
export const thermoSwitch = operatedContact('thermo-switch');
