import type { TestShop } from '../api/open-shop.ts';

/** Fills a test shop with the invented one and waits until it is there. */
export async function loadDemo(shop: TestShop, jobs: number, seed: number): Promise<void> {
  const { workId } = await shop.call('shop.demo', { jobs, seed });
  for (;;) {
    const work = await shop.call('work.get', { workId });
    if (work.state === 'done') return;
    if (work.state !== 'running') throw new Error(`the invented shop: ${JSON.stringify(work.problem)}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
