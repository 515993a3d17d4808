import type { OutputOf, ParsedInputOf, ProcedureName } from './contract.ts';
import type { Desk } from './desk.ts';

/** How a procedure is carried out: load, call a pure step, save. */
export type Step<N extends ProcedureName> = (desk: Desk, input: ParsedInputOf<N>) => Promise<OutputOf<N>>;

type NamesUnder<Prefix extends string> = Extract<ProcedureName, `${Prefix}${string}`>;

/** The procedures of some places, for example `Group<'vehicles.' | 'customers.'>`. */
export type Group<Prefix extends string> = { readonly [N in NamesUnder<Prefix>]: Step<N> };

export type AllSteps = { readonly [N in ProcedureName]: Step<N> };
