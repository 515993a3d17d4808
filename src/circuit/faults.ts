import { Problem, quoted } from '../problem.ts';
import type { Circuit, Component } from './circuit-form.ts';
import type { CompiledCircuit, SlottedFault } from './compile-circuit.ts';
import type { ComponentKind, FaultMode } from './kind.ts';
import { componentKinds, kindOf } from './kinds/index.ts';

/** A fault put into a circuit. `value` in the unit of the mode: ohms, {emf_v, resistance_ohm}, {node, ohm}, a fraction. */
export interface Fault {
  readonly component: string;
  readonly mode: string;
  readonly value?: unknown;
}

export interface FaultModeInfo {
  readonly mode: string;
  readonly title: string;
  /** What a value means; absent when the mode takes none. */
  readonly unit?: NonNullable<FaultMode['value']>['unit'];
  /** Modes of the same slot exclude each other. */
  readonly slot: string;
}

/** The fault modes of a component kind, in the order of its table; Problem `bad-circuit` for an unknown kind. */
export function faultModesOf(kind: string): readonly FaultModeInfo[] {
  return Object.entries(kindOf(kind).faultModes).map(([mode, { title, slot, value }]) => ({
    mode,
    title,
    slot,
    ...(value ? { unit: value.unit } : {}),
  }));
}

/** Names of all component kinds. */
export function listKinds(): readonly string[] {
  return [...componentKinds.keys()];
}

export interface ListedFault extends Fault, FaultModeInfo {}

/**
 * Every single fault of every component, each with its standard value. A short to another node is listed
 * toward ground; a mode without a standard (a motor seized whose stall_ohm is not known) is left out.
 */
export function listFaults(circuit: Circuit): readonly ListedFault[] {
  return circuit.components.flatMap((component) => {
    const kind = kindOf(component.kind);
    return faultModesOf(component.kind).flatMap((info): ListedFault[] => {
      const base = { component: component.id, ...info };
      const value = kind.faultModes[info.mode]?.value;
      if (!value) return [base];
      if (value.unit === 'node') {
        // A part whose first end is ground already cannot be shorted to it.
        const first = kind.terminals(component)[0]?.node;
        return first === circuit.ground ? [] : [{ ...base, value: { node: circuit.ground, ohm: 0.01 } }];
      }
      const standard = value.standard(component);
      return standard === null ? [] : [{ ...base, value: standard }];
    });
  });
}

/** Faults by component number, each with its parsed value. */
export function parseFaults(
  compiled: CompiledCircuit,
  faults: readonly Fault[],
): Map<number, readonly SlottedFault[]> {
  const parsed = new Map<number, SlottedFault[]>();
  for (const [k, fault] of faults.entries()) {
    const field = `faults[${k}]`;
    const index = compiled.componentIndex.get(fault.component);
    if (index === undefined) {
      throw new Problem('bad-circuit', `There is no component ${quoted(fault.component)} in this circuit.`, {
        field: `${field}.component`,
        id: fault.component,
      });
    }
    const component = compiled.circuit.components[index] as Component;
    const applied = parseFault(compiled, component, compiled.kinds[index] as ComponentKind, fault, field);
    const own = parsed.get(index) ?? [];
    const rival = own.find((other) => other.slot === applied.slot);
    if (rival) {
      throw new Problem(
        'bad-circuit',
        `Component ${quoted(component.id)} cannot be ${quoted(rival.mode)} and ${quoted(applied.mode)} at once.`,
        { field: `${field}.mode`, id: component.id },
      );
    }
    own.push(applied);
    parsed.set(index, own);
  }
  return parsed;
}

function parseFault(
  compiled: CompiledCircuit,
  component: Component,
  kind: ComponentKind,
  fault: Fault,
  field: string,
): SlottedFault {
  const mode = Object.hasOwn(kind.faultModes, fault.mode) ? kind.faultModes[fault.mode] : undefined;
  if (!mode) {
    throw new Problem(
      'bad-circuit',
      `A ${component.kind} such as ${quoted(component.id)} cannot be ${quoted(fault.mode)}; it can be ${Object.keys(kind.faultModes).join(', ')}.`,
      { field: `${field}.mode`, id: component.id },
    );
  }
  const isGiven = fault.value !== undefined && fault.value !== null;
  if (!mode.value) {
    if (isGiven) {
      throw new Problem(
        'bad-circuit',
        `The fault ${quoted(fault.mode)} of ${quoted(component.id)} takes no value; ${quoted(fault.value)} came.`,
        { field: `${field}.value`, id: component.id },
      );
    }
    return { slot: mode.slot, mode: fault.mode, value: undefined };
  }
  if (!isGiven) {
    const standard = mode.value.standard(component);
    if (standard === null) {
      const needs =
        mode.value.unit === 'node'
          ? 'a value {node, ohm}: the node it touches'
          : 'a value, since the component gives none';
      throw new Problem(
        'bad-circuit',
        `The fault ${quoted(fault.mode)} of ${quoted(component.id)} needs ${needs}.`,
        {
          field: `${field}.value`,
          id: component.id,
        },
      );
    }
    return { slot: mode.slot, mode: fault.mode, value: standard };
  }
  const value = mode.value.form.safeParse(fault.value);
  if (!value.success) {
    throw new Problem(
      'bad-circuit',
      `The fault ${quoted(fault.mode)} of ${quoted(component.id)} has a bad value ${quoted(fault.value)}: ${value.error.issues[0]?.message ?? 'not valid'}.`,
      { field: `${field}.value`, id: component.id },
    );
  }
  return {
    slot: mode.slot,
    mode: fault.mode,
    value: touchedNode(compiled, component, value.data, mode, field),
  };
}

/** The node of a short may be written as a point. */
function touchedNode(
  compiled: CompiledCircuit,
  component: Component,
  value: unknown,
  mode: FaultMode,
  field: string,
): unknown {
  if (mode.value?.unit !== 'node') return value;
  const { node: name, ...rest } = value as { node: string };
  const point = Object.hasOwn(compiled.circuit.points, name) ? compiled.circuit.points[name] : undefined;
  const node = point ? point.node : name;
  if (!compiled.nodeIndex.has(node)) {
    throw new Problem(
      'bad-circuit',
      `Component ${quoted(component.id)} is shorted to the unknown node ${quoted(name)}.`,
      { field: `${field}.value.node`, id: component.id },
    );
  }
  return { node, ...rest };
}
