export { type BenchWork, drawBenchWork } from './bench-work.ts';
export { type DemoCatalog, type DemoPrice, type DemoStock, makeCatalog } from './make-catalog.ts';
export { type DemoJob, type DemoOrder, type DemoShop, type DemoVehicle, makeShop } from './make-shop.ts';
export type { Stories } from './stories.ts';
