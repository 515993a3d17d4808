import { parentPort, workerData } from 'node:worker_threads';
import { type LearningJob, learnWords } from '../api/index.ts';

const trained = learnWords(workerData as LearningJob);
parentPort?.postMessage(trained, [trained.numbers.buffer as ArrayBuffer]);
