import { openShop, type TestShop } from '../api/open-shop.ts';

/** A small invented shop with its whole catalog. */
export async function openDemoShop(): Promise<TestShop> {
  const shop = await openShop();
  const { workId } = await shop.call('shop.demo', { jobs: 100, seed: 7 });
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state === 'done') return shop;
    if (work.state !== 'running') throw new Error(`the invented shop did not load: ${JSON.stringify(work)}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
