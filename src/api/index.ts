export { type Door, defaultDataFolder, ownerOf } from '../store/index.ts';
export { contract, type ProcedureName } from './contract.ts';
export type { HandlerOptions } from './desk.ts';
export { type Handler, openHandler } from './handler.ts';
export { systemClock } from './instants.ts';
export { type LearnApart, type LearningJob, learnWords } from './word-learning.ts';
