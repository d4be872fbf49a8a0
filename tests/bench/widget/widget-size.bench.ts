import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import {
  FIRST_LOAD_BUDGET_BYTES,
  measureWidget,
  WHOLE_BUDGET_BYTES,
  type WidgetSize,
} from '../../tools/widget-size.ts';
import type { Benchmark } from '../harness.ts';

const root = resolve(import.meta.dirname, '../../..');

/** Builds into a folder of its own, so that a stale dist/ is never measured. Bytes do not vary: one round. */
function sizeBenchmark(name: string, pick: (size: WidgetSize) => number, budgetBytes: number): Benchmark {
  let dir = '';
  return {
    name,
    unit: 'bytes after brotli',
    goal: { ratioAtMost: 1 },
    rounds: 1,
    warmUps: 0,
    async setUp() {
      dir = await mkdtemp(join(tmpdir(), 'platen-size-'));
      const vite = join(root, 'node_modules/vite/bin/vite.js');
      const config = ['--config', 'widget/vite.config.ts'];
      const args = [vite, 'build', ...config, '--outDir', dir, '--emptyOutDir', '--logLevel', 'warn'];
      await promisify(execFile)(process.execPath, args, { cwd: root });
    },
    subject: async () => pick(await measureWidget(dir)),
    // The baseline is the budget itself.
    baseline: () => budgetBytes,
    tearDown: () => rm(dir, { recursive: true, force: true }),
  };
}

export const benchmarks: readonly Benchmark[] = [
  sizeBenchmark('widget-first-load', ({ firstLoadBytes }) => firstLoadBytes, FIRST_LOAD_BUDGET_BYTES),
  sizeBenchmark('widget-whole', ({ wholeBytes }) => wholeBytes, WHOLE_BUDGET_BYTES),
];
