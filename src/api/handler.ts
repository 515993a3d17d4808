import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { z } from 'zod';
import { Problem, quoted } from '../problem.ts';
import { asProblem } from '../store/index.ts';
import { badInput } from './bad-input.ts';
import { contract, type OutputOf, type ParsedInputOf, type ProcedureName } from './contract.ts';
import { type Desk, type HandlerOptions, Office } from './desk.ts';
import { procedures } from './procedures.ts';
import { besideReports, runReport, type Waiting } from './report-works.ts';
import { serveUploads, sweepAtStart } from './uploads.ts';

export interface Handler {
  handle(request: Request): Promise<Response>;
  /** One procedure without HTTP around it, for the shell door. */
  call(name: string, input: unknown, waiting?: Waiting): Promise<unknown>;
  /** Tells others where this program answers. */
  tellAddress(address: string): void;
  close(): Promise<void>;
}

/** Steps that open and close transactions of their own, because they copy, replace or fill the whole database. */
const manageThemselves = new Set<ProcedureName>([
  'shop.backup',
  'shop.restore',
  'shop.demo',
  'parts.importPrices',
]);

const isName = (name: string): name is ProcedureName => Object.hasOwn(contract, name);

const megabyte = 1024 * 1024;

function problemResponse(error: unknown): Response {
  const problem =
    error instanceof Problem ? error : new Problem('unexpected', undefined, undefined, { cause: error });
  if (problem.code === 'unexpected') console.error(error);
  return Response.json(problem.report(), { status: problem.status });
}

/** Runs one procedure: parse once, one transaction around a write, the answer checked against the contract. */
async function run<N extends ProcedureName>(
  office: Office,
  name: N,
  input: unknown,
  waiting: Waiting = {},
): Promise<OutputOf<N>> {
  const definition = contract[name];
  const parsed = definition.input.safeParse(input);
  if (!parsed.success) throw badInput(parsed.error, input);
  const step = procedures[name] as (desk: Desk, input: ParsedInputOf<N>) => Promise<unknown>;
  try {
    // What a window asks first, and again when its person has put the file right.
    if (name === 'shop.status') await office.tryAgain();
    const answer =
      definition.kind === 'write' && !manageThemselves.has(name)
        ? await office.store.write((db) => step(office.desk(db), parsed.data as ParsedInputOf<N>))
        : definition.kind === 'report' && !besideReports.has(name)
          ? await runReport(office, name, waiting, (desk) => step(desk, parsed.data as ParsedInputOf<N>))
          : await step(office.desk(), parsed.data as ParsedInputOf<N>);
    const checked = definition.output.safeParse(answer);
    if (!checked.success)
      throw new Problem('unexpected', undefined, undefined, {
        cause: new Error(`${name} answered outside its contract: ${z.prettifyError(checked.error)}`),
      });
    return checked.data as OutputOf<N>;
  } catch (error) {
    throw asProblem(error, office.options.dataFolder);
  }
}

function unknownProcedure(name: string): Problem {
  const place = name.split('.')[0] ?? '';
  const near = Object.keys(contract).filter((known) => known.startsWith(`${place}.`));
  const hint = near.length > 0 ? ` Under ${place} there are: ${near.join(', ')}.` : '';
  return new Problem('unknown-procedure', `There is no procedure ${quoted(name)}.${hint}`, {
    field: 'procedure',
  });
}

/**
 * The one handler behind every door. In `report` mode it only reads, on its own connection. Where the shop data is damaged or
 * of a newer version the handler opens all the same: backups can be listed and put in place, everything else is refused with the reason.
 * @throws Problem when the data folder cannot be opened: database-busy, cannot-write; in `report` mode any
 */
export async function openHandler(
  options: HandlerOptions,
  mode: 'write' | 'report' = 'write',
): Promise<Handler> {
  const office = await Office.open(options, mode);
  // A window will ask within seconds: the search is made ready before, while the page still loads.
  if (mode === 'write' && options.door !== 'call') setTimeout(() => void office.warmUp(), 100);

  if (mode === 'write') sweepAtStart(office);

  const call: Handler['call'] = async (name, input, waiting) => {
    if (!isName(name)) throw unknownProcedure(name);
    if (mode === 'report' && contract[name].kind !== 'report')
      throw new Problem('unknown-procedure', `${name} is no report.`, { field: 'procedure' });
    return run(office, name, input, waiting);
  };

  const app = new Hono();
  app.onError((error) => problemResponse(error));
  app.notFound(() => problemResponse(new Problem('unknown-procedure')));
  // Before the limit on JSON: a list may be longer, and is never held in memory.
  if (mode === 'write') serveUploads(app, office);
  app.use(
    '/api/*',
    bodyLimit({
      maxSize: 64 * megabyte,
      onError: () => problemResponse(new Problem('too-large', 'A request may have 64 MiB at most.')),
    }),
  );
  app.post('/api/:name', async (context) => {
    const name = context.req.param('name');
    if (!/^application\/json\b/i.test(context.req.header('content-type') ?? ''))
      throw new Problem('bad-input', 'The request must be JSON (content-type: application/json).', {
        field: 'content-type',
      });
    let input: unknown;
    try {
      input = await context.req.json();
    } catch (error) {
      throw new Problem(
        'bad-input',
        `The request is not JSON: ${error instanceof Error ? error.message : ''}.`,
        {
          field: '(the whole input)',
        },
      );
    }
    if (name === 'work.watch') {
      const workId = z.object({ workId: z.string() }).safeParse(input);
      if (!workId.success) throw badInput(workId.error, input);
      return new Response(office.works.stream(workId.data.workId), {
        headers: { 'content-type': 'application/x-ndjson', 'cache-control': 'no-store' },
      });
    }
    const workId = context.req.header('x-work-id')?.slice(0, 80);
    const answer = await call(name, input, { signal: context.req.raw.signal, workId });
    return Response.json(answer, { headers: { 'cache-control': 'no-store' } });
  });

  return {
    handle: async (request) => app.fetch(request),
    call,
    tellAddress: (address) => office.tellAddress(address),
    close: () => office.close(),
  };
}
