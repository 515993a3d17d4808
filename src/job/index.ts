export { type Closing, checkClosing, countedCauses, plannedMinutes } from './closing.ts';
export {
  afterClosing,
  afterNewConcern,
  afterReading,
  afterReopening,
  refuseStatus,
  type Status,
  statuses,
} from './life.ts';
