/** The longest task of a page's main thread while a file of 24 million pixels is added. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SlipPage } from '../../e2e/slip-page.ts';
import { cameraPhoto } from '../camera-photo.ts';
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite } from './slip-site.ts';

const LARGE = { width: 6000, height: 4000 };
const SMALL = { width: 600, height: 400 };
/** Longer tasks are long tasks to the browser (Long Tasks API). */
const GOAL_MS = 50;

let site: SlipSite;
let folder: string;

/** A file that the shop does not have yet. */
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
  /** Length by the clock and in processor time of the thread, microseconds. */
  readonly dur?: number;
  readonly tdur?: number;
};

/**
 * The longest task of the main thread of any page, ms of that thread's processor time, so that other load on the machine
 * does not count.
 *
 * @throws Error when the trace has no tasks, or no thread times
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
  const { page, context } = await openHost(site, 'slip');
  const hand = new SlipPage(page);
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 3);
  // What a page loads with its first file, whatever the size, is not measured.
  await hand.addArtwork(await photo(SMALL, seed++));
  await hand.fresh();
  const trace = join(folder, `trace-${seed}.json`);
  await site.browser.startTracing(page, { path: trace, categories: ['toplevel', '__metadata'] });
  await hand.addArtwork(file);
  await page.waitForTimeout(500);
  await hand.fresh();
  await page.waitForTimeout(500);
  await site.browser.stopTracing();
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
      site = await openSlipSite();
    },
    subject: () => longestWhileAdding(LARGE),
    baseline: () => longestWhileAdding(SMALL),
    async tearDown() {
      await closeSlipSite();
      await rm(folder, { recursive: true, force: true });
    },
  },
];
