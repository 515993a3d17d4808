import { Problem, type ProblemReport } from '../problem.ts';
import {
  contract,
  type InputOf,
  type OutputOf,
  type ProcedureName,
  type UploadAnswer,
  uploadAnswer,
  type WorkState,
} from './contract.ts';

/** Calls procedures over a fetch; every door speaks the same language. */
export interface Client {
  call<N extends ProcedureName>(
    name: N,
    input: InputOf<N>,
    /** A report that is no longer wanted is stopped by `signal`, or from elsewhere by `report.cancel` with the `workId`. */
    options?: { signal?: AbortSignal; workId?: string },
  ): Promise<OutputOf<N>>;
  /** Follows long work until it ends; falls back to asking again where streaming is not possible. */
  watch(workId: string, onState: (state: WorkState) => void, signal?: AbortSignal): Promise<WorkState>;
  /** Hands over a file (a price list), which is named by `uploadId` afterwards. @throws Problem too-large above 512 MiB */
  upload(file: Blob, name: string, signal?: AbortSignal): Promise<UploadAnswer>;
  /** Address of a file of rejected lines, for a link with `download`. @param name `rejectsName` of an import's report */
  rejectsAddress(name: string): string;
}

const isProblemReport = (body: unknown): body is ProblemReport =>
  typeof body === 'object' && body !== null && 'code' in body && 'message' in body;

async function answerOf(response: Response): Promise<unknown> {
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body;
  if (isProblemReport(body)) throw new Problem(body.code, body.message, body.where);
  throw new Problem('unexpected', `The answer was ${response.status} without a reason.`);
}

/**
 * @param base address of the handler, for example "" (same origin) or "http://127.0.0.1:4100"
 * @param send the fetch to use
 */
export function createClient(base = '', send: typeof fetch = (...args) => fetch(...args)): Client {
  const post = (path: string, body: unknown, signal?: AbortSignal, workId?: string): Promise<Response> =>
    send(`${base}${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...(workId ? { 'x-work-id': workId } : {}) },
      body: JSON.stringify(body),
      signal: signal ?? null,
    });

  const call: Client['call'] = async (name, input, options) => {
    const answer = await answerOf(await post(`/api/${name}`, input, options?.signal, options?.workId));
    return contract[name].output.parse(answer) as OutputOf<typeof name>;
  };

  const poll: Client['watch'] = async (workId, onState, signal) => {
    for (;;) {
      const state = (await call('work.get', { workId }, signal ? { signal } : undefined)) as WorkState;
      onState(state);
      if (state.state !== 'running') return state;
      await new Promise((resolve) => setTimeout(resolve, 400));
    }
  };

  const watch: Client['watch'] = async (workId, onState, signal) => {
    const response = await post('/api/work.watch', { workId }, signal).catch(() => null);
    if (!response?.ok || !response.body) return poll(workId, onState, signal);
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = '';
    let last: WorkState | null = null;
    for (;;) {
      const { value, done } = await reader.read();
      rest += value ?? '';
      const lines = rest.split('\n');
      rest = lines.pop() ?? '';
      for (const text of lines.filter(Boolean)) {
        last = JSON.parse(text) as WorkState;
        onState(last);
      }
      if (done) break;
    }
    return last && last.state !== 'running' ? last : poll(workId, onState, signal);
  };

  const upload: Client['upload'] = async (file, name, signal) => {
    const response = await send(`${base}/api/uploads?name=${encodeURIComponent(name)}`, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: file,
      signal: signal ?? null,
    });
    return uploadAnswer.parse(await answerOf(response));
  };

  return {
    call,
    watch,
    upload,
    rejectsAddress: (name) => `${base}/api/rejects/${encodeURIComponent(name)}`,
  };
}
