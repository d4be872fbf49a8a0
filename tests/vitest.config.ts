import { defineConfig } from 'vitest/config';

/** Shared resources; each is started by the first test that requests it. */
const shared = ['tests/tools/setup/postgres.setup.ts', 'tests/tools/setup/build.setup.ts'];

/**
 * Bounds only for tests that hang: no verdict may depend on how busy the machine is, so a test waits for an event or
 * polls until these bounds, and never measures a duration.
 */
const patient = {
  testTimeout: 300_000,
  hookTimeout: 600_000,
  expect: { poll: { timeout: 120_000, interval: 25 } },
};

/** Two projects: `core` runs in Node alone; `browser` (`*.browser.test.ts`) drives a real Chromium and needs the built widget. */
export default defineConfig({
  test: {
    passWithNoTests: false,
    reporters: ['default', './tests/tools/setup/closing-line.ts'],
    projects: [
      {
        test: {
          ...patient,
          name: 'core',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.browser.test.ts'],
          globalSetup: shared,
          // Vitest alone would leave one of two cores idle.
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          ...patient,
          name: 'browser',
          environment: 'node',
          include: ['tests/**/*.browser.test.ts'],
          globalSetup: [...shared, 'tests/tools/setup/browser.setup.ts'],
          // Each file has a server and a Chromium of its own; most of their time is waiting.
          maxWorkers: 2,
          // For describe.concurrent: as many as the smallest machine has cores.
          maxConcurrency: 2,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
