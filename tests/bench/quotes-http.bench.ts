import { type ChildProcess, spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import autocannon from 'autocannon';
import type { SlipInput } from '../../src/contract/index.ts';
import type { Benchmark } from './harness.ts';

const root = resolve(import.meta.dirname, '../..');
const BOOKINGS = 2_000;
const CONNECTIONS = 10;
const SECONDS = 3;
/** Different slips sent in turn: nothing that remembers whole answers would help. */
const BODIES = 400;

type Servers = { readonly child: ChildProcess; readonly quotes: string; readonly empty: string };
let running: Promise<Servers> | undefined;
let users = 0;

/** One process serves all benchmarks of this file. */
function servers(): Promise<Servers> {
  running ??= new Promise((done, fail) => {
    const file = join(root, 'tests/tools/quotes-server.ts');
    const child = spawn(process.execPath, ['--import', 'tsx', file, String(BOOKINGS)], {
      cwd: root,
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    child.once('message', (told) => done({ child, ...(told as { quotes: string; empty: string }) }));
    child.once('exit', (code) => fail(new Error(`the server ended with ${code}`)));
  });
  return running;
}

function slipOf(n: number): SlipInput {
  return {
    format: 1,
    delivery: 'pick-up',
    lines: ['cotton-tee', 'sport-tee', 'cap'].map((blank, index) => ({
      id: `line-${index}`,
      blank,
      color: ['white', 'black', 'stone'][index]!,
      finish: 'standard',
      counts: [{ size: blank === 'cap' ? 'one' : 'm', count: 1 + ((n + 7 * index) % 40) }],
      placements: [
        {
          id: 'disc',
          face: blank === 'cap' ? 'front-panel' : 'front',
          artwork: 'd15c'.padEnd(64, '0'),
          xMm: 0,
          yMm: blank === 'cap' ? 29 : 120,
          widthMm: blank === 'cap' ? 40 : 60 + (n % 100),
        },
      ],
    })),
  };
}

async function load(url: string, brief: boolean): Promise<autocannon.Result> {
  const bodies = Array.from({ length: BODIES }, (_, n) => JSON.stringify({ slip: slipOf(n), brief }));
  const result = await autocannon({
    url,
    connections: CONNECTIONS,
    duration: SECONDS,
    requests: bodies.map((body) => ({
      method: 'POST' as const,
      headers: { 'content-type': 'application/json' },
      body,
    })),
  });
  if (result.non2xx > 0 || result.errors > 0)
    throw new Error(`${result.non2xx} refusals and ${result.errors} errors of ${result.requests.total}`);
  return result;
}

function benchmark(
  name: string,
  unit: string,
  goal: Benchmark['goal'],
  brief: boolean,
  figure: (result: autocannon.Result) => number,
): Benchmark {
  return {
    name,
    unit,
    goal,
    rounds: 3,
    warmUps: 1,
    async setUp() {
      users += 1;
      await servers();
    },
    subject: async () => figure(await load((await servers()).quotes, brief)),
    baseline: async () => figure(await load((await servers()).empty, brief)),
    async tearDown() {
      users -= 1;
      if (users > 0) return;
      const { child } = await servers();
      running = undefined;
      child.removeAllListeners('exit');
      child.disconnect();
    },
  };
}

const perSecond = ({ requests }: autocannon.Result): number => requests.average;
const p99Ms = ({ latency }: autocannon.Result): number => latency.p99;

/** A slip of three lines with known facts, 10 connections, 2,000 bookings in the plan. */
export const benchmarks: readonly Benchmark[] = [
  benchmark('quotes-http', 'requests/s', { ratioAtLeast: 0.5 }, false, perSecond),
  benchmark('quotes-http-p99', 'ms', { valueAtMost: 10 }, false, p99Ms),
  benchmark('quotes-http-brief', 'requests/s', { ratioAtLeast: 0.5 }, true, perSecond),
  benchmark('quotes-http-brief-p99', 'ms', { valueAtMost: 10 }, true, p99Ms),
];
