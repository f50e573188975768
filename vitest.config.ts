import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Reading the service's modules takes seconds: files share them in a process, but for those that start, kill and race.
    projects: [
      { extends: true, test: { name: 'core', include: ['tests/core/**/*.test.ts'], isolate: false } },
      {
        extends: true,
        test: {
          name: 'api',
          include: ['tests/{api,graphql,pages}/**/*.test.ts'],
          isolate: false,
          globalSetup: ['tests/support/global-setup.ts'],
        },
      },
      {
        extends: true,
        test: {
          name: 'service',
          include: ['tests/!(core|api|graphql|pages)/**/*.test.ts'],
          globalSetup: ['tests/support/global-setup.ts'],
        },
      },
    ],
    // Much of a test is waiting for the database: two cores do two files at a time.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    testTimeout: 60_000,
    hookTimeout: 120_000,
    coverage: { provider: 'v8', include: ['src/core/**'], thresholds: { branches: 100 } },
  },
});
