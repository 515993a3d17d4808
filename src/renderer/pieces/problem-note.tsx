import { useEffect, useRef } from 'react';
import { Problem } from '../../problem.ts';
import { Button } from './button.tsx';
import styles from './problem-note.module.css';

const isOffline = (problem: unknown): boolean =>
  problem instanceof TypeError && /fetch|network|load failed/i.test(problem.message);

/** Told in the words of the screen it happens on. */
const isTold = (problem: unknown): problem is { message: string; next: string } =>
  typeof problem === 'object' &&
  problem !== null &&
  'message' in problem &&
  'next' in problem &&
  typeof problem.message === 'string' &&
  typeof problem.next === 'string';

/** What happened and what to do next, from the closed table of problems. */
export function problemWords(problem: unknown): { message: string; next: string } {
  if (problem instanceof Problem) {
    const report = problem.report();
    const field = report.code === 'bad-input' ? report.where?.field : undefined;
    const where = field && !report.message.includes(field) ? ` (${field})` : '';
    return { message: `${report.message}${where}`, next: report.next };
  }
  if (isTold(problem)) return problem;
  if (isOffline(problem)) {
    return {
      message: 'Bench Tally does not answer.',
      next: 'See whether it is still running on this computer, then try again. What was saved is safe.',
    };
  }
  return {
    message: 'This page could not show what it got.',
    next: 'Try again; if it happens again, restart Bench Tally. What was saved is safe.',
  };
}

export function ProblemNote({ problem, onRetry }: { problem: unknown; onRetry?: () => void }) {
  const note = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (problem) note.current?.scrollIntoView({ block: 'nearest' });
  }, [problem]);
  if (!problem) return null;
  const { message, next } = problemWords(problem);
  return (
    <div ref={note} className={styles.note} role="alert">
      <p>
        <strong>{message}</strong>
      </p>
      <p>{next}</p>
      {onRetry ? (
        <Button size="row" onClick={onRetry}>
          Try again
        </Button>
      ) : null}
    </div>
  );
}
