import { Problem } from '../problem.ts';
import {
  allSupersessions,
  fitmentsOf,
  groupsOf,
  notePartChange,
  type PartRow,
  partChanges,
  partsByIds,
  stockRow,
  updatePart,
} from '../store/index.ts';
import type { PartCard } from './contract.ts';
import type { Desk } from './desk.ts';
import { toIso } from './instants.ts';
import { machineTitle, partOf, shopSide } from './part-views.ts';
import { partOr404 } from './parts.ts';
import { changedMeanwhile } from './people.ts';

const mostChanges = 100;

/** A part as it is kept. @throws Problem not-found */
export async function viewCard(desk: Desk, partNumber: string): Promise<PartCard> {
  const { book } = await desk.book();
  const row = await partOr404(desk, partNumber);
  const links = (await allSupersessions(desk.db)).filter((link) => link.old_id === row.id);
  const equal = (await groupsOf(desk.db, [row.id])).map((one) => one.part_id).filter((id) => id !== row.id);
  const others = new Map(
    (await partsByIds(desk.db, [...equal, ...links.map((link) => link.new_id)])).map((one) => [one.id, one]),
  );
  const named = (id: string) => ({
    partNumber: others.get(id)?.number ?? id,
    title: others.get(id)?.title ?? '',
  });
  const stock = await stockRow(desk.db, row.id);
  const side = await shopSide(desk, [row.id]);
  return {
    partNumber: row.number,
    version: row.version,
    title: row.title,
    kind: row.kind,
    componentId: row.component_id,
    maker: row.maker,
    attributes: partOf(row).attributes as Record<string, string | number>,
    gtin: row.gtin,
    retired:
      row.retired_ms === null
        ? null
        : { at: toIso(row.retired_ms, row.retired_offset ?? 0), why: row.retired_why ?? '' },
    bin: stock.bin,
    minimum: stock.minimum,
    fitments: (await fitmentsOf(desk.db, row.id)).map((one) => ({
      fitmentId: one.id,
      modelId: one.model_id,
      familyId: one.family_id,
      machine: machineTitle(book, one.model_id, one.family_id),
      years: { from: one.year_from, to: one.year_to },
      frames: { from: one.frame_from, to: one.frame_to },
      position: one.position,
      note: one.note,
      basis: one.basis,
    })),
    replacedBy: links.map((link) => ({ ...named(link.new_id), quantity: link.quantity, note: link.note })),
    equalParts: equal.map(named),
    prices: side.prices(row.id),
    changes: (await partChanges(desk.db, row.id, mostChanges)).map((one) => ({
      at: toIso(one.at_ms, one.at_offset),
      who: one.who,
      what: one.what,
    })),
  };
}

/** The part that a change is meant for, at the version that the caller saw. @throws Problem not-found, conflict */
export async function partAt(desk: Desk, partNumber: string, ifVersion: number): Promise<PartRow> {
  const row = await partOr404(desk, partNumber);
  if (row.version !== ifVersion) throw changedMeanwhile('part', row.version, ifVersion);
  return row;
}

/** Moves the version on, with what else is set, and notes who did what. @throws Problem conflict */
export async function changed(
  desk: Desk,
  row: PartRow,
  by: { readonly who: string; readonly what: string },
  set: Parameters<typeof updatePart>[3] = {},
): Promise<void> {
  if (!(await updatePart(desk.db, row.id, row.version, set)))
    throw changedMeanwhile('part', row.version + 1, row.version);
  await noteChange(desk, row.id, by);
}

export async function noteChange(
  desk: Desk,
  partId: string,
  by: { readonly who: string; readonly what: string },
): Promise<void> {
  const now = desk.now();
  await notePartChange(desk.db, { part_id: partId, at_ms: now.ms, at_offset: now.offset, ...by });
}

export const badField = (field: string, why: string): Problem =>
  new Problem('bad-input', `${field}: ${why}.`, { field });
