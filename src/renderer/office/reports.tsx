/** The reports with their charts: loaded only when somebody opens one, so that the counter starts without them. */
export { AccuracyPage } from './accuracy-page.tsx';
export { ComebacksPage } from './comebacks-page.tsx';
export { JobsPage } from './jobs-page.tsx';
export { MonthsPage } from './months-page.tsx';
export { OverviewPage } from './overview-page.tsx';
export { RecurringPage } from './recurring-page.tsx';
export { ShelfPage } from './shelf-page.tsx';
