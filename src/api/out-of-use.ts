import { partKey } from '../parts/index.ts';
import { Problem } from '../problem.ts';
import { partsByIds } from '../store/index.ts';
import type { Desk } from './desk.ts';
import { viewParts } from './part-views.ts';

/**
 * A part that the shop took out of use is neither ordered nor quoted by an oversight.
 * @param evenRetired the person was told and wants it all the same
 * @throws Problem not-allowed-now (field evenRetired) with why it is out of use and what replaces it
 */
export async function refuseRetired(
  desk: Desk,
  partNumber: string,
  evenRetired: boolean | undefined,
): Promise<void> {
  if (evenRetired) return;
  const [row] = await partsByIds(desk.db, [partKey(partNumber)]);
  if (!row || row.retired_ms === null) return;
  const [view] = await viewParts(desk, [row]);
  const next = (view?.replacedBy ?? []).map((one) =>
    one.quantity > 1 ? `${one.quantity} × ${one.partNumber}` : one.partNumber,
  );
  const why = row.retired_why ? `: ${row.retired_why.replace(/[.\s]+$/, '')}` : '';
  const instead =
    next.length === 0 ? 'Nothing is noted that replaces it.' : `Take ${next.join(' and ')} in its place.`;
  throw new Problem('not-allowed-now', `${row.number} is out of use${why}. ${instead}`, {
    field: 'evenRetired',
    id: row.number,
  });
}
