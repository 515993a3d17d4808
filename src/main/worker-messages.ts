import type { Door } from '../api/index.ts';
import type { ProblemReport } from '../problem.ts';

/** What a door and a worker say to each other. Bodies cross as bytes; a streamed answer crosses piece by piece. */
export interface WorkerStart {
  readonly dataFolder: string;
  readonly door: Door;
  readonly seedFolder: string;
  readonly programVersion: string;
}

export type ToWorker =
  | {
      readonly kind: 'request';
      readonly id: number;
      readonly url: string;
      readonly method: string;
      readonly headers: [string, string][];
      readonly body: Uint8Array | null;
    }
  | { readonly kind: 'cancel'; readonly id: number }
  | { readonly kind: 'address'; readonly address: string }
  | { readonly kind: 'close' };

export type FromWorker =
  | { readonly kind: 'ready' }
  | { readonly kind: 'refused'; readonly problem: ProblemReport }
  | {
      readonly kind: 'head';
      readonly id: number;
      readonly status: number;
      readonly headers: [string, string][];
    }
  | { readonly kind: 'chunk'; readonly id: number; readonly bytes: Uint8Array }
  | { readonly kind: 'end'; readonly id: number }
  | { readonly kind: 'closed' };
