import { defineConfig } from 'vitest/config';

/** What runs once on PGlite and once on PostgreSQL and Redis. */
const inBothModes = ['test/{db,api,worker}/**/*.test.ts'];
const embeddedFaults = 'test/faults/**/*.embedded.test.ts';

const everywhere = {
  environment: 'node' as const,
  pool: 'forks' as const,
  // The smallest machine that this must run on has two cores; each file makes its own database.
  maxWorkers: 2,
  setupFiles: ['test/support/cleanEnvironment.ts'],
};
/** Each file closes its house, and nothing outside of it keeps anything: what is loaded stays loaded for the next file. */
const withServers = { ...everywhere, isolate: false, testTimeout: 60_000, hookTimeout: 60_000 };

export default defineConfig({
  test: {
    ...everywhere,
    // Here and not in the projects, each of which would start servers of its own.
    globalSetup: ['test/support/globalSetup.ts'],
    reporters: ['default', './test/support/summaryReporter.ts'],
    projects: [
      {
        test: {
          ...everywhere,
          name: 'unit',
          // All but the others' files, so that a test in a new folder runs.
          include: ['test/**/*.test.ts'],
          exclude: [...inBothModes, 'test/faults/**'],
          testTimeout: 90_000,
          // Nothing of the engine keeps anything between two calls: loading it for each file would take longer than most tests.
          isolate: false,
        },
      },
      {
        test: {
          ...withServers,
          name: 'embedded',
          include: [...inBothModes, embeddedFaults],
          env: { LOOMWRIGHT_TEST_MODE: 'embedded' },
        },
      },
      {
        test: {
          ...withServers,
          name: 'service',
          include: [...inBothModes, 'test/faults/**/*.test.ts'],
          exclude: [embeddedFaults],
          env: { LOOMWRIGHT_TEST_MODE: 'service' },
          runner: './test/support/serviceRunner.ts',
        },
      },
    ],
  },
});
