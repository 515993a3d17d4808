import { type Book, type System, systems } from '../book/index.ts';
import { leastCauses, leastChecks } from './lint-book.ts';
import { Separator, viewSymptom, type WiringChances } from './tell-apart.ts';

export interface SystemCounts {
  readonly symptoms: number;
  readonly causes: number;
  readonly checks: number;
  readonly specs: number;
  /** Ways in which a customer says one of its symptoms. */
  readonly phrases: number;
}

/** How much of the trade the book covers, in counts. */
export interface Coverage extends SystemCounts {
  readonly bySystem: Readonly<Record<System, SystemCounts>>;
  readonly components: number;
  readonly partKinds: number;
  readonly cautions: number;
  readonly preconditions: number;
  readonly families: number;
  readonly models: number;
  readonly questions: number;
  readonly circuits: number;
  readonly outOfScope: number;
  readonly electricDrive: number;
  readonly causesWithWiring: number;
  readonly checksWithProbes: number;
  readonly phoneChecks: number;
  readonly specsByBasis: Readonly<Record<string, number>>;
  /** Per symptom: how many causes it lists, how many checks tell them apart, how many phrases it has. */
  readonly bySymptom: readonly {
    readonly symptomId: string;
    readonly causes: number;
    readonly checks: number;
    readonly phrases: number;
    readonly enough: boolean;
  }[];
}

/** Counts per system; quick, as nothing is told apart for it. */
export function countSystems(book: Book): Record<System, SystemCounts> {
  const symptoms = [...book.symptoms.values()];
  const causes = [...book.causes.values()];
  const checks = [...book.checks.values()];
  const specs = [...book.specs.values()];
  const countsOf = (system: System): SystemCounts => ({
    symptoms: symptoms.filter((each) => each.system === system).length,
    causes: causes.filter((each) => each.system === system).length,
    checks: checks.filter((each) => each.system === system).length,
    specs: specs.filter((each) => book.components.get(each.componentId)?.system === system).length,
    phrases: symptoms
      .filter((each) => each.system === system)
      .reduce((sum, { id }) => sum + (book.phrases.get(id)?.length ?? 0), 0),
  });
  return Object.fromEntries(systems.map((system) => [system, countsOf(system)])) as Record<
    System,
    SystemCounts
  >;
}

/** Counts what the book holds. `wiring` as for the lint. */
export function coverage(book: Book, wiring?: WiringChances): Coverage {
  const separator = new Separator(book, wiring);
  const all = {
    symptoms: [...book.symptoms.values()],
    causes: [...book.causes.values()],
    checks: [...book.checks.values()],
    specs: [...book.specs.values()],
  };
  const specsByBasis: Record<string, number> = {};
  for (const spec of all.specs) specsByBasis[spec.basis.kind] = (specsByBasis[spec.basis.kind] ?? 0) + 1;
  return {
    symptoms: all.symptoms.length,
    causes: all.causes.length,
    checks: all.checks.length,
    specs: all.specs.length,
    bySystem: countSystems(book),
    components: book.components.size,
    partKinds: book.partKinds.size,
    cautions: book.cautions.size,
    preconditions: book.preconditions.size,
    families: book.families.size,
    models: book.models.size,
    questions: book.questions.length,
    circuits: book.circuits.size,
    phrases: [...book.phrases.values()].reduce((sum, phrases) => sum + phrases.length, 0),
    outOfScope: book.outOfScope.length,
    electricDrive: book.electricDrive.length,
    causesWithWiring: all.causes.filter((cause) => Object.keys(cause.wiring).length > 0).length,
    checksWithProbes: all.checks.filter((check) => check.probes.length > 0).length,
    phoneChecks: all.checks.filter((check) => check.phone).length,
    specsByBasis,
    bySymptom: all.symptoms.map((symptom) => {
      const view = viewSymptom(book, symptom, separator);
      return {
        symptomId: symptom.id,
        causes: view.causes.length,
        checks: view.checks.size,
        phrases: book.phrases.get(symptom.id)?.length ?? 0,
        enough: view.causes.length >= leastCauses && view.checks.size >= leastChecks,
      };
    }),
  };
}
