import { useState } from 'react';
import { useParams } from 'react-router';
import type { JobView, Ranking } from '../../api/contract.ts';
import { Waiting } from '../pieces/empty.tsx';
import { ProblemNote } from '../pieces/problem-note.tsx';
import { useRead } from '../session/use-read.ts';
import { WiringPanel } from '../wiring/wiring-panel.tsx';
import styles from './bench-screen.module.css';
import { CausesColumn } from './causes-column.tsx';
import { CloseDialog } from './close-dialog.tsx';
import { DoNextColumn } from './do-next-column.tsx';
import { JobCardDrawer } from './job-card-drawer.tsx';
import { ReadingsFoot } from './readings-foot.tsx';
import { type JobDesk, useJob } from './use-job.ts';

/** One job at the bench. */
export function BenchScreen() {
  const number = Number(useParams().number);
  const { read, run, problem, forgetProblem, isBusy } = useJob(Number.isSafeInteger(number) ? number : 0);
  if (read.isPending)
    return (
      <div className="page">
        <Waiting what="Getting the job card" />
      </div>
    );
  if (read.isError) {
    return (
      <div className="page">
        <ProblemNote problem={read.error} onRetry={() => void read.refetch()} />
      </div>
    );
  }
  return (
    <Bench
      key={read.data.jobId}
      desk={{ job: read.data, run, isBusy }}
      problem={problem}
      onSeen={forgetProblem}
    />
  );
}

const firstOpen = (job: JobView): string | undefined =>
  (job.concerns.find(({ state }) => state === 'open') ?? job.concerns[0])?.concernId;

function Bench({ desk, problem, onSeen }: { desk: JobDesk; problem: unknown; onSeen: () => void }) {
  const { job } = desk;
  const [concernId, setConcernId] = useState(() => firstOpen(job));
  const [checkId, setCheckId] = useState<string | null>(null);
  const [isCardOpen, setCardOpen] = useState(false);
  /** The cause that a person already knows; an empty text opens the dialog without one. */
  const [closingWith, setClosingWith] = useState<string | null>(null);
  const concern = job.concerns.find((each) => each.concernId === concernId) ?? job.concerns[0];
  /** The ranking as it was shown when a concern was closed here, to say what moved. */
  const [before, setBefore] = useState<Readonly<Record<string, Ranking>>>({});
  const bench = useRead('jobs.bench', concern ? { jobId: job.jobId, concernId: concern.concernId } : null, {
    keep: true,
    stale: 0,
  });
  if (!concern) return null;
  const plan = bench.data?.plan ?? null;
  const ranking = bench.data?.ranking ?? null;
  const due = plan?.first ? plan.checks.find((check) => check.checkId === plan.first?.checkId) : undefined;
  const check = plan?.checks.find((each) => each.checkId === checkId) ?? due ?? plan?.checks[0] ?? null;

  return (
    <div className={styles.bench}>
      <h1 className="unseen">Bench, job {job.number}</h1>
      <div className={styles.columns}>
        <CausesColumn
          desk={desk}
          concern={concern}
          ranking={ranking}
          isPending={bench.isPending}
          onConcern={(id) => {
            setConcernId(id);
            setCheckId(null);
          }}
          onCard={() => setCardOpen(true)}
          onKnown={(causeId) => setClosingWith(causeId)}
        />
        <DoNextColumn
          desk={desk}
          concern={concern}
          ranking={ranking}
          plan={plan}
          check={check}
          before={before[concern.concernId] ?? null}
          planned={(due ?? plan?.checks[0])?.checkId ?? null}
          problem={(isCardOpen || closingWith !== null ? null : problem) ?? bench.error}
          onCheck={setCheckId}
          onClose={(causeId) => setClosingWith(causeId)}
        />
        <section className={styles.wiring} aria-label="The wiring">
          <WiringPanel
            check={concern.state === 'open' ? check : null}
            suspects={ranking?.causes ?? []}
            modelId={job.vehicle?.modelId ?? null}
          />
        </section>
      </div>
      <ReadingsFoot
        desk={desk}
        concern={concern}
        onUndone={() => setCheckId(null)}
        onFound={() => setClosingWith('')}
      />
      <JobCardDrawer
        desk={desk}
        isOpen={isCardOpen}
        onClose={() => {
          setCardOpen(false);
          onSeen();
        }}
        problem={problem}
      />
      {closingWith === null ? null : (
        <CloseDialog
          desk={desk}
          concern={concern}
          ranking={ranking}
          known={closingWith || null}
          problem={problem}
          onDone={() => {
            setClosingWith(null);
            onSeen();
          }}
          onClosing={() => {
            if (ranking) setBefore((all) => ({ ...all, [concern.concernId]: ranking }));
          }}
        />
      )}
    </div>
  );
}
