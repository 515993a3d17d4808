import type { z } from 'zod';
import { Problem, quoted } from '../problem.ts';

/** A path as people write it: concerns[0].words */
export function fieldOf(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, part) =>
      typeof part === 'number' ? `${text}[${part}]` : text === '' ? String(part) : `${text}.${String(part)}`,
    '',
  );
}

const valueAt = (input: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (value, part) =>
      typeof value === 'object' && value !== null ? (value as Record<PropertyKey, unknown>)[part] : undefined,
    input,
  );

/** In a union the branch that got furthest is the one that was meant. */
function deepest(issue: z.core.$ZodIssue): z.core.$ZodIssue {
  if (issue.code !== 'invalid_union') return issue;
  const branches = issue.errors
    .filter((issues) => issues.length > 0)
    .sort(
      (a, b) =>
        a.length - b.length ||
        Math.max(...b.map((i) => i.path.length)) - Math.max(...a.map((i) => i.path.length)),
    );
  const inner = branches[0]?.[0];
  if (!inner) return issue;
  const found = deepest(inner);
  return { ...found, path: [...issue.path, ...found.path] };
}

/** Names the field, what was expected and what came. */
export function badInput(error: z.ZodError, input: unknown): Problem {
  const first = error.issues[0];
  if (!first) return new Problem('bad-input');
  const issue = deepest(first);
  const field = fieldOf(issue.path) || '(the whole input)';
  const value = valueAt(input, issue.path);
  const came = value === undefined ? 'nothing was given' : `${quoted(value)} was given`;
  return new Problem('bad-input', `${field}: ${issue.message}; ${came}.`, { field });
}
