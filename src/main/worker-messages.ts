import type { Door } from '../api/index.ts';
import type { ProblemReport } from '../problem.ts';

/** What a door and a worker say to each other. Bodies cross as bytes; a streamed answer crosses piece by piece. */
export interface WorkerStart {
  readonly dataFolder: string;
  readonly door: Door;
  readonly seedFolder: string;
  readonly learnedFolder: string;
  readonly programVersion: string;
}

export type ToWorker =
  | {
      readonly kind: 'request';
      readonly id: number;
      readonly url: string;
      readonly method: string;
      readonly headers: [string, string][];
      /** The whole body, null for none, or `streamed` where it follows in pieces that the worker asks for. */
      readonly body: Uint8Array | null | 'streamed';
    }
  | { readonly kind: 'body'; readonly id: number; readonly bytes: Uint8Array }
  | { readonly kind: 'body-end'; readonly id: number; readonly broken: boolean }
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
  /** The next piece of a streamed body may come. */
  | { readonly kind: 'more'; readonly id: number }
  | { readonly kind: 'chunk'; readonly id: number; readonly bytes: Uint8Array }
  | { readonly kind: 'end'; readonly id: number }
  | { readonly kind: 'closed' };
