export { checkClosing, type Closing, countedCauses, plannedMinutes } from './closing.ts';
export {
  afterClosing,
  afterNewConcern,
  afterReading,
  afterReopening,
  refuseStatus,
  type Status,
  statuses,
} from './life.ts';
