import { Problem } from '../problem.ts';
import type { Supersession } from './part.ts';

/** What stands at the end of the chains of replacement, with how many of each, and the way there. */
export interface Replacement {
  readonly partId: string;
  readonly quantity: number;
  /** From the old number to this one, both included. */
  readonly chain: readonly string[];
}

const byOld = (links: readonly Supersession[]): Map<string, Supersession[]> =>
  Map.groupBy(links, (link) => link.oldId);

/**
 * Follows a number to what takes its place today: one part, or the parts of a kit.
 * @returns empty where nothing replaces it
 * @throws Problem bad-input with the chain shown where it runs in a circle
 */
export function resolveReplacement(partId: string, links: readonly Supersession[]): Replacement[] {
  const next = byOld(links);
  const follow = (id: string, quantity: number, chain: readonly string[]): Replacement[] => {
    const onward = next.get(id);
    if (!onward) return chain.length > 1 ? [{ partId: id, quantity, chain }] : [];
    return onward.flatMap((link) => {
      if (chain.includes(link.newId)) throw circle([...chain, link.newId]);
      return follow(link.newId, quantity * link.quantity, [...chain, link.newId]);
    });
  };
  return follow(partId, 1, [partId]);
}

/** Numbers that were replaced, directly or through others, by this one, with the chain from each. */
export function replacedBy(partId: string, links: readonly Supersession[]): string[][] {
  const before = Map.groupBy(links, (link) => link.newId);
  const walk = (id: string, chain: readonly string[]): string[][] =>
    (before.get(id) ?? [])
      .filter((link) => !chain.includes(link.oldId))
      .flatMap((link) => {
        const longer = [link.oldId, ...chain];
        return [longer, ...walk(link.oldId, longer)];
      });
  return walk(partId, [partId]);
}

const circle = (chain: readonly string[]): Problem =>
  new Problem('bad-input', `A replacement runs in a circle: ${chain.join(' → ')}.`, {
    field: 'supersessions',
    id: chain[0] as string,
  });

/**
 * Refuses a new link that would close a circle.
 * @param shown how a number is printed
 * @throws Problem bad-input with the chain shown
 */
export function refuseCircle(
  link: Supersession,
  links: readonly Supersession[],
  shown: (id: string) => string = (id) => id,
): void {
  if (link.oldId === link.newId) throw circle([link.oldId, link.newId].map(shown));
  const back = replacedBy(link.oldId, links).find((chain) => chain[0] === link.newId);
  if (back) throw circle([...back, link.newId].map(shown));
}
