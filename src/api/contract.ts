import type { z } from 'zod';
import { catalogProcedures } from './contract/catalog.ts';
import { circuitProcedures } from './contract/circuits.ts';
import { diagnosisProcedures } from './contract/diagnosis.ts';
import { handbookProcedures } from './contract/handbook.ts';
import { jobProcedures } from './contract/jobs.ts';
import { partsProcedures } from './contract/parts.ts';
import { patternProcedures } from './contract/patterns.ts';
import { peopleProcedures } from './contract/people.ts';
import { quoteProcedures } from './contract/quotes.ts';
import { readingProcedures } from './contract/readings.ts';
import { reportWorkProcedures } from './contract/report-works.ts';
import { reportProcedures } from './contract/reports.ts';
import { shopProcedures } from './contract/shop.ts';
import { stockProcedures } from './contract/stock.ts';

export * from './contract/basics.ts';
export * from './contract/catalog.ts';
export * from './contract/circuits.ts';
export * from './contract/diagnosis.ts';
export * from './contract/handbook.ts';
export * from './contract/jobs.ts';
export * from './contract/parts.ts';
export * from './contract/patterns.ts';
export * from './contract/people.ts';
export type { Procedure } from './contract/procedure.ts';
export * from './contract/quotes.ts';
export * from './contract/readings.ts';
export * from './contract/report-works.ts';
export * from './contract/reports.ts';
export * from './contract/shop.ts';
export * from './contract/stock.ts';

/** Every procedure of the program, named place.verb. `work.watch` streams and is served beside them. */
export const contract = {
  ...diagnosisProcedures,
  ...readingProcedures,
  ...circuitProcedures,
  ...peopleProcedures,
  ...partsProcedures,
  ...catalogProcedures,
  ...quoteProcedures,
  ...stockProcedures,
  ...jobProcedures,
  ...handbookProcedures,
  ...patternProcedures,
  ...reportProcedures,
  ...reportWorkProcedures,
  ...shopProcedures,
} as const;

export type Contract = typeof contract;
export type ProcedureName = keyof Contract;
export type InputOf<N extends ProcedureName> = z.input<Contract[N]['input']>;
export type ParsedInputOf<N extends ProcedureName> = z.output<Contract[N]['input']>;
export type OutputOf<N extends ProcedureName> = z.output<Contract[N]['output']>;
