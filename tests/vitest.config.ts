import { defineConfig } from 'vitest/config';

/** What any test may ask for; each is started by the first that does. */
const shared = ['tests/tools/setup/postgres.setup.ts', 'tests/tools/setup/build.setup.ts'];

/** Two projects: `core` runs in Node alone; `browser` (`*.browser.test.ts`) drives a real Chromium and needs the built widget. */
export default defineConfig({
  test: {
    passWithNoTests: false,
    reporters: ['default', './tests/tools/setup/closing-line.ts'],
    projects: [
      {
        test: {
          name: 'core',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.browser.test.ts'],
          globalSetup: shared,
          testTimeout: 30_000,
          hookTimeout: 60_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          name: 'browser',
          environment: 'node',
          include: ['tests/**/*.browser.test.ts'],
          globalSetup: [...shared, 'tests/tools/setup/browser.setup.ts'],
          testTimeout: 90_000,
          hookTimeout: 120_000,
          // Pages are timed by what a customer would wait; two Chromiums on two cores would blur that.
          fileParallelism: false,
          // Where a file says that its tests may overlap: as many as there are cores in the smallest machine.
          maxConcurrency: 2,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
