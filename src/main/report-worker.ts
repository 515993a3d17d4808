import { serveWorker } from './serve-worker.ts';

await serveWorker('report');
