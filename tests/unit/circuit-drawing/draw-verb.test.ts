/** circuits.draw over the handler: what the contract promises, and the refusals that name their field. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { contract } from '../../../src/api/contract.ts';
import { openShop, type TestShop } from '../api/open-shop.ts';

let shop: TestShop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(() => shop?.close());

describe('circuits.draw', () => {
  it('gives a drawing and a state that fit the contract, for every circuit of the book', async () => {
    const { circuits } = await shop.call('circuits.list', {});
    expect(circuits).toHaveLength(12);
    for (const { circuitId } of circuits) {
      const answer = await shop.call('circuits.draw', { circuitId });
      expect(() => contract['circuits.draw'].output.parse(answer)).not.toThrow();
      const drawn = [
        ...answer.drawing.wires.map((w) => w.component),
        ...answer.drawing.symbols.map((s) => s.id),
      ];
      expect(new Set(Object.keys(answer.state.parts))).toEqual(new Set(drawn));
    }
  });

  it('controls, faults and parted plugs show', async () => {
    const answer = await shop.call('circuits.draw', {
      circuitId: 'horn',
      controls: { key: 'on', horn: 'pressed' },
      faults: [{ component: 'horn-ground-wire', mode: 'open' }],
    });
    expect(answer.state.parts.horn).toMatchObject({ word: 'silent', healthy: 'loud' });
    expect(answer.controls.map(({ id, stands }) => [id, stands])).toEqual([
      ['key', 'on'],
      ['horn', 'pressed'],
    ]);
    const parted = await shop.call('circuits.draw', { circuitId: 'horn', unplugged: ['horn-plug'] });
    expect(parted.plugs).toEqual([{ id: 'horn-plug', title: 'plug at the horn', parted: true }]);
    expect(parted.state.parts['horn-wire']?.out).toBe(true);
  });

  it('says of a cause whether its wiring is in the book', async () => {
    // A kick lever has no place in the horn's wiring.
    const answer = await shop.call('circuits.draw', { circuitId: 'horn', causeId: 'kick-spring-broken' });
    expect(answer.cause).toMatch(/unknown|healthy/);
    expect(answer.state).toEqual((await shop.call('circuits.draw', { circuitId: 'horn' })).state);
  });

  it.each([
    [{ circuitId: 'no-such' }, /no circuit “no-such”/],
    [{ circuitId: 'horn', causeId: 'no-such' }, /no cause “no-such”/],
    [{ circuitId: 'horn', controls: { key: 'sideways' } }, /sideways/],
    [{ circuitId: 'horn', faults: [{ component: 'horn', mode: 'welded' }] }, /cannot be “welded”/],
    [{ circuitId: 'horn', unplugged: ['no-plug'] }, /no-plug/],
  ])('%j is refused by name', async (input, message) => {
    await expect(shop.callRaw('circuits.draw', input)).rejects.toThrow(message);
  });
});
