import type { z } from 'zod';

/**
 * One procedure of the contract. `read` changes nothing, `write` runs in one transaction on the write connection,
 * `report` reads a snapshot in the second worker.
 */
export interface Procedure<I extends z.ZodType = z.ZodType, O extends z.ZodType = z.ZodType> {
  readonly kind: 'read' | 'write' | 'report';
  /** One plain sentence for the list of procedures. */
  readonly does: string;
  readonly input: I;
  readonly output: O;
}

export function procedure<I extends z.ZodType, O extends z.ZodType>(
  definition: Procedure<I, O>,
): Procedure<I, O> {
  return definition;
}
