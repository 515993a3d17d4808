export { type DemoJob, type DemoOrder, type DemoShop, type DemoVehicle, makeShop } from './make-shop.ts';
export type { Stories } from './stories.ts';
