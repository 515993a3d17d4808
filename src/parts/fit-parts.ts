import { type ComparedAttribute, compareAttributes } from './attributes.ts';
import type { Catalog, Fitment, Machine, Part } from './part.ts';
import { resolveReplacement } from './supersession.ts';
import { isInFrameRange } from './vin.ts';

/** How sure it is that a part fits, surest first. */
export const certainties = ['fits', 'replaces', 'interchange', 'equal-by-attributes'] as const;
export type Certainty = (typeof certainties)[number];

export interface Fit {
  readonly part: Part;
  readonly certainty: Certainty;
  readonly why: string;
  readonly quantity: number;
  readonly position: string | null;
  readonly attributes: readonly ComparedAttribute[];
}

export interface NearMiss {
  readonly part: Part;
  readonly whyNot: string;
  readonly attributes: readonly ComparedAttribute[];
}

export interface FitAnswer {
  readonly fits: readonly Fit[];
  readonly nearMisses: readonly NearMiss[];
}

/** Attributes that may differ for a part to be shown as nearly fitting; more, and it is another thing. */
const mostMisses = 2;
const mostShown = 12;

interface Judged {
  readonly applies: boolean;
  readonly why: string;
}

const span = (from: number | null, to: number | null): string =>
  from !== null && to !== null ? `${from}–${to}` : from !== null ? `from ${from}` : `up to ${to}`;

/** Whether a fitment holds for this machine; null where it speaks of another model. */
function judge(fitment: Fitment, machine: Machine): Judged | null {
  const byModel = fitment.modelId !== null;
  if (byModel ? fitment.modelId !== machine.modelId : fitment.familyId !== machine.familyId) return null;
  const place = fitment.position ? `, ${fitment.position}` : '';
  const notes: string[] = [];
  if (fitment.yearFrom !== null || fitment.yearTo !== null) {
    const years = span(fitment.yearFrom, fitment.yearTo);
    if (machine.year === null) notes.push(`only model years ${years}: ask the year`);
    else if (machine.year < (fitment.yearFrom ?? 0) || machine.year > (fitment.yearTo ?? 9999))
      return { applies: false, why: `fits model years ${years}, this one is of ${machine.year}` };
    else notes.push(`model years ${years}`);
  }
  if (fitment.frameFrom !== null || fitment.frameTo !== null) {
    const range = `${fitment.frameFrom ?? '…'} to ${fitment.frameTo ?? '…'}`;
    const inside =
      machine.frame === null ? null : isInFrameRange(machine.frame, fitment.frameFrom, fitment.frameTo);
    if (inside === false)
      return { applies: false, why: `fits frame numbers ${range}, this one is ${machine.frame}` };
    notes.push(
      inside === null ? `only frame numbers ${range}: read the frame number` : `frame numbers ${range}`,
    );
  }
  if (fitment.note) notes.push(fitment.note);
  const tail = notes.length > 0 ? ` (${notes.join('; ')})` : '';
  return {
    applies: true,
    why: `listed for ${byModel ? 'this model' : 'this engine family'}${place}${tail}`,
  };
}

/**
 * Parts that fit a machine, surest first, and those that nearly do with the reason why not.
 * @param wanted which parts are asked for, by kind or component
 * @throws Problem bad-input where a chain of replacement runs in a circle
 */
export function fitParts(catalog: Catalog, machine: Machine, wanted: (part: Part) => boolean): FitAnswer {
  const fits = new Map<string, Fit>();
  const misses = new Map<string, NearMiss>();
  const listed: { part: Part; fitment: Fitment }[] = [];
  const add = (fit: Fit): void => {
    if (!fits.has(fit.part.id)) fits.set(fit.part.id, fit);
  };

  for (const fitment of catalog.fitments) {
    const part = catalog.parts.get(fitment.partId);
    if (!part || !wanted(part)) continue;
    const judged = judge(fitment, machine);
    if (!judged) continue;
    if (!judged.applies) {
      misses.set(part.id, { part, whyNot: judged.why, attributes: [] });
      continue;
    }
    listed.push({ part, fitment });
    const after = resolveReplacement(part.id, catalog.supersessions);
    if (after.length === 0)
      add({
        part,
        certainty: 'fits',
        why: judged.why,
        quantity: 1,
        position: fitment.position,
        attributes: [],
      });
    for (const { partId, quantity, chain } of after) {
      const newer = catalog.parts.get(partId);
      if (!newer) continue;
      const numbers = chain.map((id) => catalog.parts.get(id)?.number ?? id).join(' → ');
      const kit = after.length > 1 ? ` (one of ${after.length} parts that replace it together)` : '';
      add({
        part: newer,
        certainty: 'replaces',
        why: `replaces the number listed: ${numbers}${kit}`,
        quantity,
        position: fitment.position,
        attributes: compareAttributes(part.kind, part.attributes, newer.attributes),
      });
    }
  }

  for (const fit of [...fits.values()]) {
    const group = catalog.groups.get(fit.part.id);
    if (group === undefined) continue;
    for (const [id, other] of catalog.groups) {
      const part = other === group && id !== fit.part.id ? catalog.parts.get(id) : undefined;
      if (!part || catalog.supersessions.some((link) => link.oldId === id)) continue;
      add({
        part,
        certainty: 'interchange',
        why: `equal to ${fit.part.number} in the interchange list`,
        quantity: 1,
        position: fit.position,
        attributes: compareAttributes(part.kind, fit.part.attributes, part.attributes),
      });
    }
  }

  for (const part of catalog.parts.values()) {
    if (fits.has(part.id) || !wanted(part)) continue;
    if (catalog.supersessions.some((link) => link.oldId === part.id)) continue;
    const against = listed
      .filter((one) => one.part.kind === part.kind && Object.keys(one.part.attributes).length > 0)
      .map((one) => ({
        ...one,
        compared: compareAttributes(part.kind, one.part.attributes, part.attributes),
      }))
      .map((one) => ({ ...one, failed: one.compared.filter((attribute) => !attribute.fits) }))
      .sort((a, b) => a.failed.length - b.failed.length)[0];
    if (!against) continue;
    const { failed, compared, part: model, fitment } = against;
    if (failed.length === 0 && !misses.has(part.id))
      add({
        part,
        certainty: 'equal-by-attributes',
        why: `everything that decides agrees with ${model.number}, which is listed for this machine`,
        quantity: 1,
        position: fitment.position,
        attributes: compared,
      });
    else if (
      failed.length > 0 &&
      failed.length <= mostMisses &&
      failed.length < compared.length &&
      !misses.has(part.id)
    )
      misses.set(part.id, {
        part,
        whyNot: failed.map((attribute) => attribute.whyNot).join('; '),
        attributes: compared,
      });
  }

  const rank = (fit: Fit): number => certainties.indexOf(fit.certainty);
  return {
    fits: [...fits.values()].sort((a, b) => rank(a) - rank(b) || a.part.number.localeCompare(b.part.number)),
    nearMisses: [...misses.values()]
      .filter((miss) => !fits.has(miss.part.id))
      .sort((a, b) => missed(a) - missed(b) || a.part.number.localeCompare(b.part.number))
      .slice(0, mostShown),
  };
}

const missed = (miss: NearMiss): number =>
  miss.attributes.length === 0 ? 0 : miss.attributes.filter((attribute) => !attribute.fits).length;
