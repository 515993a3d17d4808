import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    projects: [
      {
        test: {
          name: 'pure',
          globalSetup: ['tests/learn-once.ts'],
          include: ['tests/{unit,reference,property,regression}/**/*.test.{ts,tsx}', 'tests/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 180_000,
          hookTimeout: 180_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
