import { Link } from 'react-router';
import type { ComebackGroupView, OutputOf, RiseView } from '../../api/contract.ts';
import { Empty } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { TallyMarks } from '../pieces/tally-marks.tsx';
import { useReport } from '../session/use-report.ts';
import { dayWords } from '../words/time.ts';
import { countWords } from '../words/units.ts';
import { FilterNote } from './filter-note.tsx';
import { MonthPaper } from './month-paper.tsx';
import { ParetoChart } from './pareto-chart.tsx';
import { Pick, periodDays, periods } from './pick.tsx';
import { RecurringTable } from './recurring-table.tsx';
import styles from './report.module.css';
import { ReportWait } from './report-wait.tsx';
import { chanceWords, lastDayWords, monthText, short } from './report-words.ts';
import { useFilters } from './use-filters.ts';

const days = ['90', ...periodDays.filter((each) => each !== '90' && each !== '36600')];

/** Lines to read at a glance; the shelf has them all. */
const mostBuys = 8;

function Rise({ rise, days }: { rise: RiseView; days: string }) {
  const { months } = rise;
  const search = new URLSearchParams({
    days,
    by: 'cause',
    key: rise.causeId ?? '',
    ...(rise.modelId ? { model: rise.modelId } : {}),
  });
  return (
    <article className={styles.card}>
      <h3>
        {rise.cause}
        {rise.model ? ` on ${rise.model}` : ' on all models'}
      </h3>
      <TallyMarks count={rise.now.concerns} />
      <dl>
        <dt>now</dt>
        <dd>
          {rise.now.concerns} of {countWords(rise.now.visits, 'visit')}
        </dd>
        <dt>before</dt>
        <dd>
          {rise.before.concerns} of {countWords(rise.before.visits, 'visit')}
          {rise.change.ratio === null ? '' : `, so ${short(rise.change.ratio)} times as often now`}
        </dd>
        {months ? (
          <>
            <dt>mostly</dt>
            <dd>
              {months.from === months.until
                ? monthText(months.from)
                : `${monthText(months.from)} to ${monthText(months.until)}`}
            </dd>
          </>
        ) : null}
        {rise.parts.length > 0 ? (
          <>
            <dt>fitted</dt>
            <dd>
              {rise.parts
                .slice(0, 3)
                .map(
                  (part) => `${part.fitted} × ${part.title}${part.supplier ? ` from ${part.supplier}` : ''}`,
                )
                .join('; ')}
            </dd>
          </>
        ) : null}
        <dt>by chance</dt>
        <dd>{chanceWords(rise.change.falseShare)}, season and number of looks allowed for</dd>
      </dl>
      <p className={styles.jobs}>
        <Link to={`/office/jobs?${search}`}>The jobs</Link>
        {rise.jobNumbers.map((number) => (
          <Link key={number} to={`/bench/${number}`}>
            {number}
          </Link>
        ))}
      </p>
    </article>
  );
}

function CameBack({ group }: { group: ComebackGroupView }) {
  const [kind = '', supplier = ''] = group.ids;
  const search = new URLSearchParams({ partKind: kind, supplier });
  return (
    <article className={styles.card}>
      <h3>{group.title}</h3>
      <TallyMarks count={group.didNotHold} />
      <dl>
        <dt>did not hold</dt>
        <dd>
          {group.didNotHold} of {countWords(group.repairs, 'repair')}
        </dd>
        <dt>from others</dt>
        <dd>
          {group.rest.didNotHold} of {countWords(group.rest.repairs, 'repair')}
        </dd>
        <dt>by chance</dt>
        <dd>{chanceWords(group.falseShare)}, number of looks allowed for</dd>
      </dl>
      <p className={styles.jobs}>
        <Link to={`/office/comebacks?${search}`}>How long they held</Link>
        <Link to={`/office/jobs?${search}&days=1095&back=diagnosis-stands`}>The jobs</Link>
      </p>
    </article>
  );
}

function Answer({ data, days }: { data: OutputOf<'patterns.overview'>; days: string }) {
  const { cameBack } = data;
  return (
    <>
      <p className={styles.soft}>
        {countWords(data.period.visits, 'visit')} from {dayWords(data.period.from)} to{' '}
        {lastDayWords(data.period.until)}, against {countWords(data.before.visits, 'visit')} before.
      </p>
      <div className={styles.columns}>
        <section>
          <h2>What changed</h2>
          {data.changed.map((rise) => (
            <Rise key={`${rise.causeId} ${rise.modelId}`} rise={rise} days={days} />
          ))}
          {data.changed.length === 0 ? <p>Nothing rose more than chance and season explain.</p> : null}
          <p className={styles.soft}>
            {countWords(data.asked, 'cause')} and pairs of cause and model were looked at;{' '}
            {data.tested.toLocaleString('en-US')} had enough jobs to show anything.
          </p>
        </section>
        <section>
          <h2>What came back</h2>
          {cameBack.groups.map((group) => (
            <CameBack key={group.ids.join(' ')} group={group} />
          ))}
          {cameBack.groups.length === 0 ? (
            <p>No part of one supplier comes back more than chance explains.</p>
          ) : null}
          <p className={styles.soft}>
            {countWords(cameBack.repairs, 'proven repair')} in three years: {cameBack.didNotHold} did not
            hold, {cameBack.wrongDiagnosis} had another cause, {cameBack.inDoubt} in doubt.{' '}
            <Link to="/office/comebacks">All comebacks</Link>
          </p>
        </section>
        <section>
          <h2>What to buy</h2>
          {data.buy.length === 0 ? <p>Nothing is below its reorder point.</p> : null}
          <ul className={styles.buy}>
            {data.buy.slice(0, mostBuys).map((row) => (
              <li key={row.kind}>
                <b>{row.order}</b>
                <div>
                  {row.title}
                  <span>
                    {row.usedInYear} used in a year, {row.onHand - row.reserved + row.onOrder} free or on the
                    way
                  </span>
                </div>
              </li>
            ))}
          </ul>
          <p className={styles.soft}>
            {data.buy.length > mostBuys ? 'And more: ' : ''}
            <Link to="/office/shelf">the whole shelf</Link>
          </p>
        </section>
      </div>
      {data.top.length > 0 ? (
        <>
          <h2>Most frequent causes</h2>
          <div className={styles.stacked}>
            <ParetoChart rows={data.top} caption="Concerns by cause in this period" />
            <RecurringTable
              by="cause"
              groups={data.top}
              per="all visits"
              file={{ of: 'recurring', input: { by: 'cause', days: Number(days) } }}
              search={{ days }}
            />
          </div>
        </>
      ) : null}
    </>
  );
}

/** What changed, what came back, what to buy: before any click. */
export function OverviewPage() {
  const filters = useFilters();
  const asked = filters.oneOf('days', days);
  const overview = useReport('patterns.overview', { days: Number(asked) });
  return (
    <>
      <h1>What keeps coming back</h1>
      <div className={styles.filters}>
        <Pick
          label="Period"
          value={asked}
          choices={days.flatMap((each) => periods.filter((period) => period.value === each))}
          onPick={(value) => filters.set({ days: value })}
        />
        <MonthPaper />
      </div>
      <FilterNote filters={filters} />
      <ReportWait report={overview} what="Counting the ledger" />
      <ProblemNote problem={overview.error} onRetry={() => void overview.refetch()} />
      {overview.data?.remark ? <Empty title={overview.data.remark} /> : null}
      {overview.data && !overview.data.remark ? <Answer data={overview.data} days={asked} /> : null}
    </>
  );
}
