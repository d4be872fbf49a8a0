/** What a file of 24 million pixels does to the page it is added on: the longest task of its main thread. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SlipPage } from '../../e2e/slip-page.ts';
import { cameraPhoto } from '../camera-photo.ts';
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite } from './slip-site.ts';

const LARGE = { width: 6000, height: 4000 };
const SMALL = { width: 600, height: 400 };
/** The browser's own word for a task that is felt (Long Tasks API). */
const GOAL_MS = 50;

let rig: SlipSite;
let folder: string;

/** A file the shop does not know yet. */
async function photo({ width, height }: typeof LARGE, seed: number): Promise<string> {
  const path = join(folder, `photo-${width}-${seed}.jpg`);
  await writeFile(path, await cameraPhoto(width, height, seed));
  return path;
}

type TraceEvent = {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly args?: { readonly name?: string };
  /** length on the clock, and on the thread's own, microseconds */
  readonly dur?: number;
  readonly tdur?: number;
};

/**
 * The longest task of the main thread of any page, ms of that thread's own time: what others on the machine take does not
 * count.
 *
 * @throws Error when the trace has no tasks, or no time of threads.
 */
function longestTaskMs(events: readonly TraceEvent[]): number {
  const mains = new Set(
    events
      .filter(({ name, args }) => name === 'thread_name' && args?.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid}/${tid}`),
  );
  const tasks = events.filter(
    ({ name, ph, pid, tid }) =>
      ph === 'X' && mains.has(`${pid}/${tid}`) && name === 'ThreadControllerImpl::RunTask',
  );
  const lengths = tasks.flatMap(({ tdur }) => (tdur === undefined ? [] : [tdur / 1000]));
  if (lengths.length === 0) throw new Error(`no task was timed among ${events.length} events`);
  return lengths.reduce((longest, length) => Math.max(longest, length), 0);
}

let seed = 1;

/** The longest task from adding a file until the shop's answer for it is shown. */
async function longestWhileAdding(size: typeof LARGE): Promise<number> {
  const file = await photo(size, seed++);
  const { page, context } = await openHost(rig, 'slip');
  const hand = new SlipPage(page);
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 3);
  // What the first file of a page loads, whatever its size, is no matter of the file.
  await hand.addArtwork(await photo(SMALL, seed++));
  await hand.fresh();
  const trace = join(folder, `trace-${seed}.json`);
  await rig.browser.startTracing(page, { path: trace, categories: ['toplevel', '__metadata'] });
  await hand.addArtwork(file);
  await page.waitForTimeout(500);
  await hand.fresh();
  await page.waitForTimeout(500);
  await rig.browser.stopTracing();
  await context.close();
  const { traceEvents } = JSON.parse(await readFile(trace, 'utf8')) as { traceEvents: TraceEvent[] };
  return longestTaskMs(traceEvents);
}

export const benchmarks: readonly Benchmark[] = [
  {
    name: 'slip-24-megapixels',
    unit: 'ms of the longest task',
    goal: { valueAtMost: GOAL_MS },
    rounds: 3,
    warmUps: 0,
    async setUp() {
      folder = await mkdtemp(join(tmpdir(), 'platen-bench-'));
      rig = await openSlipSite();
    },
    subject: () => longestWhileAdding(LARGE),
    baseline: () => longestWhileAdding(SMALL),
    async tearDown() {
      await closeSlipSite();
      await rm(folder, { recursive: true, force: true });
    },
  },
];
