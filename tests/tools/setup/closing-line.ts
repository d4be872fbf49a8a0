import type { Reporter, SerializedError, TestModule } from 'vitest/node';

type Counts = { readonly passed: number; readonly failed: number; readonly skipped: number };

/**
 * Counts a finished run. A file that would not load, and an error outside any test, each count as one failure:
 * otherwise a run that broke could still close on "0 failed".
 */
export function countTests(modules: readonly TestModule[], unhandled: readonly SerializedError[]): Counts {
  let passed = 0;
  let failed = unhandled.length;
  let skipped = 0;
  for (const module of modules) {
    failed += module.errors().length;
    for (const suite of module.children.allSuites()) failed += suite.errors().length;
    for (const test of module.children.allTests()) {
      const { state } = test.result();
      if (state === 'passed') passed++;
      else if (state === 'failed') failed++;
      else skipped++;
    }
  }
  return { passed, failed, skipped };
}

/** The last line of a run, without color: "12 passed, 0 failed, 1 skipped". */
export function closingLine({ passed, failed, skipped }: Counts): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}

/** A run in which nothing passed and nothing failed counts as broken too. */
export function isBroken({ passed, failed }: Counts): boolean {
  return failed > 0 || passed === 0;
}

/** Vitest reporter that ends every run with one plain line of counts and sets the exit code to match. */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(
    modules: readonly TestModule[],
    unhandled: readonly SerializedError[],
    reason: 'passed' | 'interrupted' | 'failed',
  ): void {
    const counts = countTests(modules, unhandled);
    if (isBroken(counts) || reason !== 'passed') process.exitCode = 1;
    process.stdout.write(`\n${closingLine(counts)}\n`);
  }
}
