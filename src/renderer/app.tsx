import { lazy } from 'react';
import { Navigate, Route, Routes } from 'react-router';
import { Problem } from '../problem.ts';
import { BenchScreen } from './bench/bench-screen.tsx';
import { JobBoard } from './bench/job-board.tsx';
import { CounterScreen } from './counter/counter-screen.tsx';
import { FirstRun } from './first-run/first-run.tsx';
import { HandbookCheck } from './handbook/handbook-check.tsx';
import { HandbookHistory } from './handbook/handbook-history.tsx';
import { HandbookScreen } from './handbook/handbook-screen.tsx';
import { HandbookUpkeep } from './handbook/handbook-upkeep.tsx';
import { BackupPage } from './office/backup-page.tsx';
import { DayPage } from './office/day-page.tsx';
import { OfficeScreen } from './office/office-screen.tsx';
import { SettingsPage } from './office/settings-page.tsx';
import { NewPartScreen, PartUpkeepScreen } from './part-upkeep/part-upkeep-screen.tsx';
import { JobParts } from './parts/job-parts.tsx';
import { PartsScreen } from './parts/parts-screen.tsx';
import { Waiting } from './pieces/empty.tsx';
import { ProblemNote } from './pieces/problem-note.tsx';
import { PriceListScreen } from './price-lists/price-list-screen.tsx';
import { JobQuotes } from './quotes/job-quotes.tsx';
import { QuotesScreen } from './quotes/quotes-screen.tsx';
import { useRead } from './session/use-read.ts';
import { NotFound } from './shell/not-found.tsx';
import { Shell } from './shell/shell.tsx';
import { ShutData } from './shell/shut-data.tsx';
import { StockScreen } from './stock/stock-screen.tsx';

const report = (name: keyof typeof import('./office/reports.tsx')) =>
  lazy(async () => ({ default: (await import('./office/reports.tsx'))[name] }));
const OverviewPage = report('OverviewPage');
const RecurringPage = report('RecurringPage');
const JobsPage = report('JobsPage');
const MonthsPage = report('MonthsPage');
const ComebacksPage = report('ComebacksPage');
const ShelfPage = report('ShelfPage');
const AccuracyPage = report('AccuracyPage');

const isShut = (error: unknown): boolean =>
  error instanceof Problem && (error.code === 'damaged-database' || error.code === 'newer-database');

export function App() {
  const status = useRead('shop.status', {});
  if (status.isPending)
    return (
      <Shell>
        <div className="page">
          <Waiting what="Opening the book" />
        </div>
      </Shell>
    );
  if (status.isError) {
    return (
      <Shell>
        <div className="page">
          {isShut(status.error) ? (
            <ShutData problem={status.error} onRetry={() => void status.refetch()} />
          ) : (
            <ProblemNote problem={status.error} onRetry={() => void status.refetch()} />
          )}
        </div>
      </Shell>
    );
  }
  const start = status.data.empty ? '/welcome' : '/counter';
  return (
    <Shell>
      <Routes>
        <Route path="/" element={<Navigate to={start} replace />} />
        <Route path="/index.html" element={<Navigate to={start} replace />} />
        <Route path="/welcome" element={<FirstRun />} />
        <Route path="/counter" element={<CounterScreen />} />
        <Route path="/counter/parts" element={<PartsScreen />} />
        <Route path="/counter/parts/stock" element={<StockScreen />} />
        <Route path="/counter/parts/new" element={<NewPartScreen />} />
        <Route path="/counter/parts/edit" element={<PartUpkeepScreen />} />
        <Route path="/counter/parts/import" element={<PriceListScreen />} />
        <Route path="/bench/:number/parts" element={<JobParts />} />
        <Route path="/counter/quotes" element={<QuotesScreen />} />
        <Route path="/counter/quotes/:quoteId" element={<QuotesScreen />} />
        <Route path="/bench/:number/quote" element={<JobQuotes />} />
        <Route path="/bench" element={<JobBoard />} />
        <Route path="/bench/:number" element={<BenchScreen />} />
        <Route path="/office" element={<OfficeScreen />}>
          <Route index element={<DayPage />} />
          <Route path="patterns" element={<OverviewPage />} />
          <Route path="recurring" element={<RecurringPage />} />
          <Route path="jobs" element={<JobsPage />} />
          <Route path="months" element={<MonthsPage />} />
          <Route path="comebacks" element={<ComebacksPage />} />
          <Route path="shelf" element={<ShelfPage />} />
          <Route path="book" element={<AccuracyPage />} />
          <Route path="backup" element={<BackupPage />} />
          <Route path="settings" element={<SettingsPage />} />
        </Route>
        <Route path="/handbook/check" element={<HandbookCheck />} />
        <Route path="/handbook/history" element={<HandbookHistory />} />
        <Route path="/handbook/upkeep" element={<HandbookUpkeep />} />
        <Route path="/handbook/new/:kind" element={<HandbookScreen writesNew />} />
        <Route path="/handbook" element={<HandbookScreen />} />
        <Route path="/handbook/:kind/:id" element={<HandbookScreen />} />
        <Route path="*" element={<NotFound />} />
      </Routes>
    </Shell>
  );
}
