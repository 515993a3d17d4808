import type { Book, Cause } from '../../book/index.ts';
import type { PlanCheck } from './plan-state.ts';
import type { Saving } from './saving.ts';

/** Why a check is worth doing, in words: whom it separates, and what it saves. */
export function checkReason(
  book: Book,
  causes: readonly Cause[],
  check: PlanCheck,
  belief: ArrayLike<number>,
  saving: Saving,
): string {
  const pair = separatedPair(causes, check, belief);
  const names = pair ? pairNames(book, pair[0], pair[1]) : null;
  const separates = names ? `Separates ${names[0]} from ${names[1]}` : 'Narrows the causes down';
  const of = Math.max(1, Math.round(saving.of));
  const saved = Math.min(of, Math.round(saving.minutes));
  if (saved >= 1) return `${separates}; about ${saved} of ${of} remaining minutes saved.`;
  if (saving.inAll > 0.5) return `${separates}; saves parts rather than time.`;
  return `${separates}; costs about as much time as it saves.`;
}

/** The two causes that the check tells apart with the most at stake: likely ones whose outcomes differ. */
function separatedPair(
  causes: readonly Cause[],
  check: PlanCheck,
  belief: ArrayLike<number>,
): readonly [Cause, Cause] | null {
  const width = causes.length + 1;
  let most = 0;
  let pair: readonly [Cause, Cause] | null = null;
  for (let a = 0; a < causes.length; a++) {
    for (let b = a + 1; b < causes.length; b++) {
      let apart = 0;
      for (let outcome = 0; outcome < check.outcomes; outcome++) {
        const row = outcome * width;
        apart += Math.abs((check.chances[row + a] as number) - (check.chances[row + b] as number));
      }
      const stake = (belief[a] as number) * (belief[b] as number) * apart;
      if (stake <= most) continue;
      most = stake;
      const first = causes[a] as Cause;
      const second = causes[b] as Cause;
      pair = (belief[a] as number) >= (belief[b] as number) ? [first, second] : [second, first];
    }
  }
  return pair;
}

function pairNames(book: Book, first: Cause, second: Cause): readonly [string, string] {
  const name = (cause: Cause): string => book.components.get(cause.componentId)?.title ?? cause.componentId;
  if (first.componentId !== second.componentId) return [lowerFirst(name(first)), lowerFirst(name(second))];
  return [`“${first.title}”`, `“${second.title}”`];
}

/** "Starter relay" → "starter relay"; "CDI unit" stays. */
export function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}
