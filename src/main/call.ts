import { resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { v7 as uuidv7 } from 'uuid';
import { defaultDataFolder, type Handler, openHandler, systemClock } from '../api/index.ts';
import { Problem, type ProblemReport } from '../problem.ts';
import { learnedFolder, programVersion } from './program.ts';

/** The shell door: one procedure, JSON in, JSON out; or one input a line with "-". */

const usage = `Use: npm run --silent call -- <procedure> '<json>' [--data DIR]
     npm run --silent call -- <procedure> - [--data DIR]   one JSON input a line from standard input`;

/** 2 for bad input, 1 for anything else. */
const exitCodeOf = (report: ProblemReport): number => (clientFault.has(report.code) ? 2 : 1);

const clientFault = new Set<string>([
  'bad-input',
  'unknown-procedure',
  'not-found',
  'too-large',
  'bad-circuit',
  'bad-probe',
  'bad-handbook',
  'bad-file',
  'conflict',
  'not-allowed-now',
]);

function reportOf(error: unknown): ProblemReport {
  if (error instanceof Problem) return error.report();
  console.error(error);
  return new Problem('unexpected').report();
}

function parseJson(text: string, line?: number): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Problem('bad-input', `The input is not JSON: ${error instanceof Error ? error.message : ''}.`, {
      field: '(the whole input)',
      ...(line ? { line } : {}),
    });
  }
}

function readArguments(args: readonly string[]): { name: string; input: string; dataFolder: string } {
  const rest: string[] = [];
  let dataFolder = defaultDataFolder();
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    if (arg === '--data' || arg.startsWith('--data=')) {
      const folder = arg === '--data' ? args[i + 1] : arg.slice('--data='.length);
      if (!folder) throw new Problem('bad-input', '--data needs a folder.', { field: '--data' });
      dataFolder = folder;
      if (arg === '--data') i += 1;
    } else rest.push(arg);
  }
  const [name, input, ...extra] = rest;
  if (!name) throw new Problem('bad-input', usage, { field: 'procedure' });
  if (extra.length > 0)
    throw new Problem(
      'bad-input',
      `Nothing was expected after the input, got “${extra.join(' ')}”. ${usage}`,
      {
        field: 'arguments',
      },
    );
  return { name, input: input ?? '{}', dataFolder: resolve(dataFolder) };
}

/** Long work of a single call is waited for, since the program ends with the answer. */
async function settle(handler: Handler, answer: unknown): Promise<unknown> {
  if (typeof answer !== 'object' || answer === null || !('workId' in answer) || 'state' in answer)
    return answer;
  for (;;) {
    const state = (await handler.call('work.get', { workId: answer.workId })) as {
      state: string;
      problem?: ProblemReport;
    };
    if (state.state === 'done') return state;
    if (state.state !== 'running') {
      const problem = state.problem;
      throw problem ? new Problem(problem.code, problem.message, problem.where) : new Problem('unexpected');
    }
    await new Promise((wait) => setTimeout(wait, 50));
  }
}

const writeOut = (text: string): Promise<void> =>
  new Promise((done) => {
    if (process.stdout.write(`${text}\n`)) done();
    else process.stdout.once('drain', () => done());
  });

async function callEachLine(handler: Handler, name: string): Promise<number> {
  let worst = 0;
  let number = 0;
  for await (const text of createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY })) {
    number += 1;
    if (text.trim() === '') continue;
    try {
      const answer = await settle(handler, await handler.call(name, parseJson(text, number)));
      await writeOut(JSON.stringify(answer));
    } catch (error) {
      const report = reportOf(error);
      const code = exitCodeOf(report);
      // 1 (trouble inside) is worse than 2 (bad input).
      worst = worst === 1 || code === 1 ? 1 : code;
      const { next: _next, ...short } = report;
      await writeOut(JSON.stringify({ error: short }));
    }
  }
  return worst;
}

/** @returns the exit code */
export async function runCall(args: readonly string[], where: { seedFolder: string }): Promise<number> {
  let handler: Handler | null = null;
  try {
    const { name, input, dataFolder } = readArguments(args);
    const parsed = input === '-' ? null : parseJson(input);
    handler = await openHandler({
      dataFolder,
      door: 'call',
      seedFolder: where.seedFolder,
      learnedFolder,
      programVersion,
      clock: systemClock,
      newId: uuidv7,
    });
    if (input === '-') return await callEachLine(handler, name);
    await writeOut(JSON.stringify(await settle(handler, await handler.call(name, parsed))));
    return 0;
  } catch (error) {
    const report = reportOf(error);
    const { next: _next, ...short } = report;
    process.stderr.write(`${JSON.stringify(short)}\n`);
    return exitCodeOf(report);
  } finally {
    await handler?.close();
  }
}
