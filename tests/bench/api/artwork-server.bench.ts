import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { cameraPhoto } from '../camera-photo.ts';
import type { Benchmark } from '../harness.ts';

/** How long the server's event loop is blocked while artwork is received, decoded, measured and drawn. */

const root = resolve(import.meta.dirname, '../../..');
/** Files sent at once: more than there are processes to read them. */
const AT_ONCE = 4;
const LOADS = 2;
const GOAL_MS = 20;

/**
 * Reports every 100 ms the longest block of the event loop since the last report, ms, without the time its thread waited
 * for a processor, which Linux counts. What is left is our own code, garbage collection and system calls.
 */
const WATCH = `
  const { openSync, readSync } = await import('node:fs');
  const stat = openSync('/proc/thread-self/schedstat', 'r');
  const text = Buffer.alloc(100);
  const waitedMs = () => Number(text.toString('latin1', 0, readSync(stat, text, 0, 100, 0)).split(' ')[1]) / 1e6;
  const EVERY_MS = 1;
  let held = 0;
  let last = performance.now();
  let waited = waitedMs();
  setInterval(() => {
    const now = performance.now();
    const waitedNow = waitedMs();
    held = Math.max(held, now - last - EVERY_MS - (waitedNow - waited));
    last = now;
    waited = waitedNow;
  }, EVERY_MS);
  setInterval(() => {
    process.send({ heldMs: held });
    held = 0;
  }, 100);
  process.once('disconnect', () => process.exit());`;

type Watched = { readonly child: ChildProcess; held: number[]; readonly told: Promise<string> };

/** The built server, or an idle process; both report how long their event loop was blocked. */
function watch(code: string, cwd: string): Watched {
  const child = spawn(process.execPath, ['--input-type=module', '--eval', code + WATCH], {
    cwd,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  const watched: Watched = {
    child,
    held: [],
    told: new Promise((done, fail) => {
      child.on('message', (message: { heldMs?: number; url?: string }) => {
        if (message.url !== undefined) done(message.url);
        else if (message.heldMs !== undefined) watched.held.push(message.heldMs);
      });
      child.once('exit', (code) => fail(new Error(`a process ended with ${code}`)));
    }),
  };
  watched.told.catch(() => {});
  return watched;
}

type Bench = {
  readonly built: string;
  readonly data: string;
  readonly server: Watched;
  readonly idle: Watched;
  readonly url: string;
};
let bench: Bench;

async function start(): Promise<Bench> {
  await mkdir(join(root, '.cache'), { recursive: true });
  const built = await mkdtemp(join(root, '.cache', 'built-'));
  await symlink(join(root, 'demo'), join(built, 'demo'));
  await promisify(execFile)(
    process.execPath,
    ['node_modules/typescript/bin/tsc', '-p', 'api/tsconfig.build.json', '--outDir', join(built, 'dist')],
    { cwd: root, maxBuffer: 64 << 20 },
  );
  const data = await mkdtemp(join(tmpdir(), 'platen-bench-'));
  const settings = JSON.stringify({ port: 0, rateLimits: false, logLevel: 'silent', dataDir: data });
  const module = pathToFileURL(join(built, 'dist/api/server.js')).href;
  const server = watch(
    `const { startServer } = await import(${JSON.stringify(module)});
     const { url } = await startServer(${settings});
     process.send({ url });`,
    built,
  );
  const idle = watch('', built);
  return { built, data, server, idle, url: await server.told };
}

/** 24 million pixels, some 20 MB as JPEG. */
const PHOTO = [4500, 5400] as const;

let next = 1;

/** Sends files at once as forms, as a page does, among small requests; gives the longest block of each loop. */
async function underLoad(photos: readonly Buffer[]): Promise<void> {
  const shop = `${bench.url}/v1/shops/quill-and-kettle`;
  let done = false;
  const others = (async () => {
    while (!done) {
      const answer = await fetch(`${shop}/catalog`);
      await answer.arrayBuffer();
      await new Promise((wait) => setTimeout(wait, 20));
    }
  })();
  const answers = await Promise.all(
    photos.map(async (bytes, index) => {
      const form = new FormData();
      form.set('file', new Blob([new Uint8Array(bytes)]), `photo${index}.jpg`);
      const answer = await fetch(`${shop}/artworks`, { method: 'POST', body: form });
      await answer.arrayBuffer();
      return answer.status;
    }),
  );
  done = true;
  await others;
  await new Promise((wait) => setTimeout(wait, 200));
  if (answers.some((status) => status !== 201)) throw new Error(`not all were read: ${answers.join()}`);
}

export const benchmarks: readonly Benchmark[] = [
  {
    name: 'artwork-server-loop',
    unit: 'ms held at worst',
    goal: { valueAtMost: GOAL_MS },
    rounds: 1,
    warmUps: 1,
    async setUp() {
      bench = await start();
    },
    async subject() {
      const loads: (readonly Buffer[])[] = [];
      for (let load = 0; load < LOADS; load++)
        loads.push(await Promise.all(Array.from({ length: AT_ONCE }, () => cameraPhoto(...PHOTO, next++))));
      bench.server.held = [];
      bench.idle.held = [];
      for (const photos of loads) await underLoad(photos);
      return Math.max(...bench.server.held);
    },
    // An idle process at the same time shows what the system itself adds.
    baseline: () => Math.max(...bench.idle.held),
    async tearDown() {
      for (const { child } of [bench.server, bench.idle]) {
        child.removeAllListeners('exit');
        child.disconnect();
      }
      await rm(bench.built, { recursive: true, force: true });
      await rm(bench.data, { recursive: true, force: true });
    },
  },
];
