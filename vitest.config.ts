import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // What is pure shares its modules among files; what has a database gets a process of its own for each.
    projects: [
      { extends: true, test: { name: 'core', include: ['tests/core/**/*.test.ts'], isolate: false } },
      {
        extends: true,
        test: {
          name: 'service',
          include: ['tests/!(core)/**/*.test.ts'],
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
