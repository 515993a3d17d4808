import type { z } from 'zod';
import { Problem, quoted } from '../problem.ts';
import { type Circuit, type Component, circuitFrame, MOST_COMPONENTS } from './circuit-form.ts';
import { componentKinds } from './kinds/index.ts';

/**
 * Reads a circuit in the form of METHOD.md. The result is frozen, its sections are never absent.
 *
 * Throws Problem `bad-circuit` (`too-large` above 2,000 components) with the field path and the id of what is
 * wrong: unknown kind, node, plug part, control or position, missing ground or field, an id used twice, a
 * resistance that is not above 0 Ω, a loop of sources without resistance. The value itself is not changed.
 */
export function readCircuit(value: unknown): Circuit {
  const size = (value as { components?: unknown } | null)?.components;
  if (Array.isArray(size) && size.length > MOST_COMPONENTS) {
    throw new Problem(
      'too-large',
      `A circuit may have at most ${MOST_COMPONENTS} components; this one has ${size.length}.`,
      { field: 'components' },
    );
  }
  const frame = circuitFrame.safeParse(value);
  if (!frame.success) throw fromIssue(frame.error, value, '', undefined);
  refuseIdealLoops(frame.data.components);
  const components = frame.data.components.map(readComponent);
  const circuit: Circuit = {
    ...frame.data,
    id: frame.data.id ?? 'inline',
    title: frame.data.title ?? frame.data.id ?? 'inline circuit',
    plugs: titled(frame.data.plugs),
    points: titled(frame.data.points),
    components,
  };
  checkIds(circuit);
  checkControls(circuit);
  checkNodes(circuit);
  return deepFreeze(structuredClone(circuit));
}

function titled<T extends { title?: string }>(
  entries: Record<string, T>,
): Record<string, T & { title: string }> {
  return Object.fromEntries(
    Object.entries(entries).map(([name, entry]) => [name, { ...entry, title: entry.title ?? name }]),
  );
}

function readComponent(value: { id: string; kind: string }, index: number): Component {
  const kind = componentKinds.get(value.kind);
  if (!kind) {
    throw new Problem(
      'bad-circuit',
      `Component ${quoted(value.id)} has the unknown kind ${quoted(value.kind)}; known kinds are ${[...componentKinds.keys()].join(', ')}.`,
      { field: `components[${index}].kind`, id: value.id },
    );
  }
  const parsed = kind.form.safeParse(value);
  if (!parsed.success) throw fromIssue(parsed.error, value, `components[${index}]`, value.id);
  return parsed.data;
}

/** The first thing zod found, as a sentence that names the field and quotes what came. */
function fromIssue(error: z.ZodError, value: unknown, prefix: string, id: string | undefined): Problem {
  const issue = error.issues[0];
  const path = issue?.path ?? [];
  const field = path.reduce<string>(
    (text, key) =>
      typeof key === 'number' ? `${text}[${key}]` : text ? `${text}.${String(key)}` : String(key),
    prefix,
  );
  let came: unknown = value;
  for (const key of path) came = (came as Record<PropertyKey, unknown> | undefined)?.[key];
  const owner = id ?? ownerOf(value, path);
  const who = owner === undefined ? 'The circuit' : `Component ${quoted(owner)}`;
  const name = path.length > 0 ? String(path[path.length - 1]) : '';
  const what =
    came === undefined
      ? `needs ${name || 'a value'}: it`
      : `has a bad ${name || 'value'}, ${quoted(came)}: it`;
  return new Problem('bad-circuit', `${who} ${what} ${issue?.message ?? 'is not valid'}.`, {
    field: field || 'circuit',
    ...(owner === undefined ? {} : { id: owner }),
  });
}

function ownerOf(value: unknown, path: readonly PropertyKey[]): string | undefined {
  if (path[0] !== 'components' || typeof path[1] !== 'number') return undefined;
  const id = (value as { components?: { id?: unknown }[] }).components?.[path[1]]?.id;
  return typeof id === 'string' ? id : undefined;
}

/** Sources in a loop without any resistance have no solution: named before the single zero resistance is. */
function refuseIdealLoops(components: readonly { id: string; kind: string }[]): void {
  const parent = new Map<string, string>();
  const root = (node: string): string => {
    const up = parent.get(node) ?? node;
    return up === node ? node : root(up);
  };
  for (const [index, component] of components.entries()) {
    const c = component as Record<string, unknown>;
    if (c.kind !== 'battery' || c.resistance_ohm !== 0) continue;
    const ends = Array.isArray(c.ends) ? c.ends : [c.positive, c.negative];
    const [a, b] = [root(String(ends[0])), root(String(ends[1]))];
    if (a === b) {
      throw new Problem(
        'bad-circuit',
        `Battery ${quoted(component.id)} closes a loop of sources without resistance between ${quoted(ends[0])} and ${quoted(ends[1])}; give every battery its resistance_ohm.`,
        { field: `components[${index}].resistance_ohm`, id: component.id },
      );
    }
    parent.set(a, b);
  }
}

function checkIds(circuit: Circuit): void {
  const seen = new Map<string, number>();
  for (const [index, { id }] of circuit.components.entries()) {
    const before = seen.get(id);
    if (before !== undefined) {
      throw new Problem(
        'bad-circuit',
        `The component id ${quoted(id)} is used twice, at components[${before}] and components[${index}].`,
        { field: `components[${index}].id`, id },
      );
    }
    seen.set(id, index);
  }
  for (const [name, plug] of Object.entries(circuit.plugs)) {
    for (const [index, part] of plug.parts.entries()) {
      if (seen.has(part)) continue;
      throw new Problem('bad-circuit', `Plug ${quoted(name)} lists the unknown component ${quoted(part)}.`, {
        field: `plugs.${name}.parts[${index}]`,
        id: name,
      });
    }
  }
}

function checkControls(circuit: Circuit): void {
  for (const [name, control] of Object.entries(circuit.controls)) {
    if (new Set(control.positions).size !== control.positions.length) {
      throw new Problem('bad-circuit', `Control ${quoted(name)} lists a position twice.`, {
        field: `controls.${name}.positions`,
        id: name,
      });
    }
    if (!control.positions.includes(control.rest)) {
      throw new Problem(
        'bad-circuit',
        `Control ${quoted(name)} rests at the unknown position ${quoted(control.rest)}; its positions are ${control.positions.join(', ')}.`,
        { field: `controls.${name}.rest`, id: name },
      );
    }
  }
  for (const [index, component] of circuit.components.entries()) {
    const follows = componentKinds.get(component.kind)?.follows(component) ?? [];
    for (const { control: name, positions, field } of follows) {
      const control = Object.hasOwn(circuit.controls, name) ? circuit.controls[name] : undefined;
      if (!control) {
        throw new Problem(
          'bad-circuit',
          `Component ${quoted(component.id)} follows the unknown control ${quoted(name)}.`,
          { field: `components[${index}].control`, id: component.id },
        );
      }
      const unknown = positions.find((position) => !control.positions.includes(position));
      if (unknown !== undefined) {
        throw new Problem(
          'bad-circuit',
          `Component ${quoted(component.id)} names the unknown position ${quoted(unknown)} of control ${quoted(name)}; its positions are ${control.positions.join(', ')}.`,
          { field: `components[${index}].${field}`, id: component.id },
        );
      }
    }
  }
}

function checkNodes(circuit: Circuit): void {
  const nodes = new Set(
    circuit.components.flatMap(
      (c) =>
        componentKinds
          .get(c.kind)
          ?.terminals(c)
          .map((terminal) => terminal.node) ?? [],
    ),
  );
  if (!nodes.has(circuit.ground)) {
    throw new Problem('bad-circuit', `The ground ${quoted(circuit.ground)} is not a node of any component.`, {
      field: 'ground',
      id: circuit.ground,
    });
  }
  for (const [name, point] of Object.entries(circuit.points)) {
    if (!nodes.has(point.node)) {
      throw new Problem(
        'bad-circuit',
        `Point ${quoted(name)} sits on the unknown node ${quoted(point.node)}.`,
        { field: `points.${name}.node`, id: name },
      );
    }
    if (nodes.has(name) && point.node !== name) {
      throw new Problem(
        'bad-circuit',
        `Point ${quoted(name)} has the name of a node but sits on ${quoted(point.node)}; rename one of them.`,
        { field: `points.${name}`, id: name },
      );
    }
  }
  for (const name of Object.keys(circuit.nodes)) {
    if (nodes.has(name)) continue;
    throw new Problem('bad-circuit', `The section nodes marks the unknown node ${quoted(name)}.`, {
      field: `nodes.${name}`,
      id: name,
    });
  }
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFreeze(part);
  }
  return value;
}
