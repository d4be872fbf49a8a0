import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import autocannon from 'autocannon';
import { build } from 'vite';
import type { Benchmark } from '../harness.ts';
import { quoteSlip } from './quotes-slip.ts';

const root = resolve(import.meta.dirname, '../../..');
const BOOKINGS = 2_000;
const CONNECTIONS = 10;
const SECONDS = 3;

type Servers = {
  readonly child: ChildProcess;
  readonly dir: string;
  readonly quotes: string;
  readonly empty: string;
};
let running: Promise<Servers> | undefined;
let users = 0;

/** One process serves all benchmarks of this file. It is compiled, as in production: tsx adds a helper call per function. */
async function start(): Promise<Servers> {
  const cache = join(root, '.cache');
  await mkdir(cache, { recursive: true });
  // Inside the repository, so that node_modules is found by walking up.
  const dir = await mkdtemp(join(cache, 'built-'));
  await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: 'warn',
    build: { ssr: join(root, 'tests/bench/api/quotes-server.ts'), outDir: dir, target: 'node20' },
  });
  const child = spawn(process.execPath, [join(dir, 'quotes-server.js'), String(BOOKINGS)], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  return new Promise((done, fail) => {
    child.once('message', (told) => done({ child, dir, ...(told as { quotes: string; empty: string }) }));
    child.once('exit', (code) => fail(new Error(`the server ended with ${code}`)));
  });
}

function servers(): Promise<Servers> {
  running ??= start();
  return running;
}

/** Either the same slip every time, as tabs, visitors and reloads send it, or a new one with every request. */
type Asked = { readonly isNew: boolean; readonly brief: boolean };
let sent = 0;

async function load(url: string, { isNew, brief }: Asked): Promise<autocannon.Result> {
  const result = await autocannon({
    url,
    connections: CONNECTIONS,
    duration: SECONDS,
    requests: [
      {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        setupRequest: (request) => ({
          ...request,
          body: JSON.stringify({ slip: quoteSlip(isNew ? sent++ : 0), brief }),
        }),
      },
    ],
    // A refusal is cheaper than a quote, so one among the answers would flatter the figure.
    verifyBody: (body) => !String(body).startsWith('{"kind":"refusal"'),
  });
  const wrong = result.non2xx + result.errors + result.mismatches;
  if (wrong > 0)
    throw new Error(`${wrong} of ${result.requests.total} requests were not answered by a quote`);
  return result;
}

function benchmark(
  name: string,
  unit: string,
  goal: Benchmark['goal'],
  asked: Asked,
  figure: (result: autocannon.Result) => number,
): Benchmark {
  return {
    name,
    unit,
    goal,
    rounds: 3,
    warmUps: 1,
    async setUp() {
      users++;
      await servers();
    },
    subject: async () => figure(await load((await servers()).quotes, asked)),
    baseline: async () => figure(await load((await servers()).empty, asked)),
    async tearDown() {
      users--;
      if (users > 0) return;
      const { child, dir } = await servers();
      running = undefined;
      child.removeAllListeners('exit');
      child.disconnect();
      await rm(dir, { recursive: true, force: true });
    },
  };
}

const perSecond = ({ requests }: autocannon.Result): number => requests.average;
const p99Ms = ({ latency }: autocannon.Result): number => latency.p99;

const AGAIN: Asked = { isNew: false, brief: false };
const NEW: Asked = { isNew: true, brief: false };
/** Brief quotes: price and ready day alone, without alternatives or the ladder. */
const NEW_BRIEF: Asked = { isNew: true, brief: true };

/** A slip of three lines with known artwork facts, 10 connections, 2,000 bookings in the plan. */
export const benchmarks: readonly Benchmark[] = [
  benchmark('quotes-http', 'requests/s', { ratioAtLeast: 0.5 }, AGAIN, perSecond),
  benchmark('quotes-http-p99', 'ms', { valueAtMost: 10 }, AGAIN, p99Ms),
  benchmark('quotes-http-new', 'requests/s', { ratioAtLeast: 0.5 }, NEW, perSecond),
  benchmark('quotes-http-new-p99', 'ms', { valueAtMost: 10 }, NEW, p99Ms),
  benchmark('quotes-http-new-brief', 'requests/s', { ratioAtLeast: 0.5 }, NEW_BRIEF, perSecond),
  benchmark('quotes-http-new-brief-p99', 'ms', { valueAtMost: 10 }, NEW_BRIEF, p99Ms),
];
