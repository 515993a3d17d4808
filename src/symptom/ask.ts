import type { SeparatingQuestion } from '../book/index.ts';

/** From this share on the first symptom needs no question. */
const sureFrom = 0.88;
/** A symptom competes from this share on, and from this part of the first one's. */
const leastShare = 0.06;
const leastPart = 0.15;

/** The question of the book that separates most of what competes, the first symptom among it; undefined where nothing competes. */
export function separatingQuestion(
  questions: readonly SeparatingQuestion[],
  matches: readonly { readonly symptomId: string; readonly score: number }[],
): { ask: string; answers: { say: string; symptomId: string }[] } | undefined {
  const first = matches[0];
  if (!first || first.score >= sureFrom) return undefined;
  const competing = new Map(
    matches
      .slice(0, 4)
      .filter(({ score }) => score >= leastShare && score >= first.score * leastPart)
      .map(({ symptomId, score }) => [symptomId, score]),
  );
  if (competing.size < 2) return undefined;
  let best: SeparatingQuestion | undefined;
  let bestShare = first.score;
  for (const question of questions) {
    const answered = new Set<string>(question.answers.map(({ symptomId }) => symptomId));
    if (!answered.has(first.symptomId)) continue;
    let share = 0;
    for (const [symptomId, score] of competing) if (answered.has(symptomId)) share += score;
    if (share > bestShare + 1e-9) {
      best = question;
      bestShare = share;
    }
  }
  return (
    best && {
      ask: best.ask,
      answers: best.answers.map(({ say, symptomId }) => ({ say, symptomId })),
    }
  );
}
