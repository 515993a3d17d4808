import type { Basis, Book, Caution, Check, Probe } from '../../book/index.ts';
import { signalWords } from '../../book/index.ts';
import type { CauseId, CheckId, SpecId } from '../../terms.ts';

/** A check as it is put before a person, with what its answers are worth now. */
export interface CheckView {
  readonly checkId: CheckId;
  readonly title: string;
  readonly kind: Check['kind'];
  readonly instrument: Check['instrument'];
  readonly phone: boolean;
  /** Touch time still to spend: less what is already open. */
  readonly minutes: number;
  readonly waitMinutes: number;
  readonly why: string;
  readonly place: string;
  readonly access: string[];
  readonly controls: Record<string, string>;
  readonly steps: string[];
  readonly healthy: string;
  readonly unit: string | null;
  readonly cautions: Caution[];
  readonly outcomes: OutcomeView[];
  readonly basis: string;
  readonly specId: SpecId | null;
  readonly probe?: {
    readonly circuitId: string;
    readonly instrument: Probe['instrument'];
    readonly controls: Record<string, string>;
    readonly unplugged: string[];
    readonly removed: string[];
  };
  readonly expected?: { readonly causeId: CauseId; readonly title: string; readonly shows: string }[];
}

export interface OutcomeView {
  readonly outcome: string;
  readonly title: string;
  readonly means: string;
  readonly chance: number;
  readonly low?: number | null;
  readonly high?: number | null;
}

export interface CheckViewParts {
  readonly minutes: number;
  readonly why: string;
  /** Chances of the outcomes by what is known now. */
  readonly chances: readonly number[];
  /** The probe in a circuit that this machine has. */
  readonly probe: Probe | undefined;
  readonly expected: { readonly causeId: CauseId; readonly title: string; readonly shows: string }[];
}

export function checkView(book: Book, check: Check, parts: CheckViewParts): CheckView {
  const { probe, expected } = parts;
  return {
    checkId: check.id,
    title: check.title,
    kind: check.kind,
    instrument: check.instrument,
    phone: check.phone,
    minutes: Math.round(parts.minutes * 10) / 10,
    waitMinutes: check.waitMinutes,
    why: parts.why,
    place: check.place,
    access: [...check.access],
    controls: { ...check.controls },
    steps: [...check.steps],
    healthy: check.healthy,
    unit: check.quantity?.unit ?? null,
    cautions: cautionsOf(book, check.cautionIds),
    outcomes: check.outcomes.map((outcome, place) => ({
      outcome: outcome.id,
      title: outcome.title,
      means: outcome.means,
      chance: Math.min(1, Math.max(0, parts.chances[place] as number)),
      ...(outcome.range ? { low: outcome.range.low, high: outcome.range.high } : {}),
    })),
    basis: basisWords(check.basis),
    specId: check.specId,
    ...(probe
      ? {
          probe: {
            circuitId: probe.circuitId,
            instrument: probe.instrument,
            controls: { ...probe.controls },
            unplugged: [...probe.unplugged],
            removed: [...probe.removed],
          },
        }
      : {}),
    ...(expected.length > 0 ? { expected } : {}),
  };
}

/** Worst first. */
function cautionsOf(book: Book, ids: readonly string[]): Caution[] {
  return ids
    .flatMap((id) => book.cautions.get(id) ?? [])
    .sort((a, b) => signalWords.indexOf(a.signal) - signalWords.indexOf(b.signal));
}

export function basisWords(basis: Basis): string {
  if (basis.kind === 'published') return `published: ${basis.source}`;
  return {
    'common-practice': 'common practice',
    'shop-measured': 'measured in the shop',
    demo: 'demo value',
  }[basis.kind];
}
