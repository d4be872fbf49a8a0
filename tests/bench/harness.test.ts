import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { type Benchmark, growthExponent, judge, judgeGrowth, median, meets, timed } from './harness.ts';

/** A benchmark that replays given figures and records the order of calls. */
function replay(subject: number[], baseline: number[], calls: string[], goal: Benchmark['goal']): Benchmark {
  const next = (figures: number[], name: string) => () => {
    calls.push(name);
    return figures.shift() ?? Number.NaN;
  };
  return {
    name: 'replay',
    unit: 'ms',
    goal,
    rounds: 3,
    warmUps: 1,
    setUp: () => void calls.push('up'),
    subject: next(subject, 'A'),
    baseline: next(baseline, 'B'),
    tearDown: () => void calls.push('down'),
  };
}

describe('judging a benchmark', () => {
  it('warms up unmeasured, then goes A B A B, and compares medians', async () => {
    const calls: string[] = [];
    const verdict = await judge(replay([900, 30, 10, 20], [900, 5, 40, 10], calls, { ratioAtMost: 2 }));
    expect(calls.join(' ')).toBe('up A B A B A B A B down');
    expect(verdict).toEqual({
      value: 20,
      baseline: 10,
      ratio: 2,
      unit: 'ms',
      goal: { ratioAtMost: 2 },
      met: true,
    });
  });

  it('says when a goal is not met', async () => {
    const verdict = await judge(replay([0, 21, 21, 21], [0, 10, 10, 10], [], { ratioAtMost: 2 }));
    expect(verdict).toMatchObject({ ratio: 2.1, met: false });
  });

  it('tears down after a failure and passes it on', async () => {
    const calls: string[] = [];
    await expect(judge(replay([1, Number.NaN], [1], calls, { ratioAtMost: 1 }))).rejects.toThrow(
      'the subject gave NaN',
    );
    expect(calls.at(-1)).toBe('down');
  });

  it.each([
    [{ ratioAtMost: 1 }, { value: 5, ratio: 1 }, true],
    [{ ratioAtMost: 1 }, { value: 5, ratio: 1.01 }, false],
    [{ ratioAtLeast: 1 }, { value: 5, ratio: 0.99 }, false],
    [{ valueAtMost: 4 }, { value: 5, ratio: 0 }, false],
    [{ valueAtLeast: 6 }, { value: 5, ratio: 0 }, false],
    [{ valueAtMost: 5, ratioAtLeast: 3 }, { value: 5, ratio: 2 }, false],
  ])('holds %j against %j: %s', (goal, measured, met) => {
    expect(meets(goal, measured)).toBe(met);
  });

  it('refuses a goal that could never fail', () => {
    expect(() => meets({}, { value: 1, ratio: 1 })).toThrow('no bound');
  });

  it('takes the middle of odd counts and the mean of the middle two of even ones', () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    expect(() => median([])).toThrow(RangeError);
  });

  it('times work in milliseconds', async () => {
    expect(await timed(() => new Promise((done) => setTimeout(done, 30)))).toBeGreaterThanOrEqual(29);
  });
});

describe('growth mode', () => {
  it('finds the exponent of a power law: 3 n^2 over n = 1, 10, 100', () => {
    expect(growthExponent([1, 10, 100].map((n) => [n, 3 * n ** 2]))).toBeCloseTo(2, 12);
  });

  it('refuses figures that have no logarithm, and a single scale', () => {
    expect(() =>
      growthExponent([
        [1, 0],
        [10, 1],
      ]),
    ).toThrow(RangeError);
    expect(() => growthExponent([[1, 1]])).toThrow(RangeError);
  });

  it('gives each scale to the benchmark and judges the slope', async () => {
    const scales: number[] = [];
    const verdict = await judgeGrowth({
      name: 'grows',
      unit: 'ms',
      goal: { ratioAtMost: 9, growthAtMost: 1.5 },
      rounds: 1,
      warmUps: 0,
      grow: [1, 10, 100],
      setUp: (scale) => void scales.push(scale),
      subject: (scale) => scale ** 2,
      baseline: (scale) => scale,
    });
    expect(scales).toEqual([1, 10, 100]);
    expect(verdict.exponent).toBeCloseTo(2, 12);
    expect(verdict.baselineExponent).toBeCloseTo(1, 12);
    expect(verdict.met).toBe(false);
  });
});

describe('npm run bench', () => {
  let dir = '';
  afterEach(() => rm(dir, { recursive: true, force: true }));

  async function bench(files: Record<string, string>, ...args: string[]) {
    dir = await mkdtemp(join(tmpdir(), 'platen-bench-'));
    for (const [name, text] of Object.entries(files)) await writeFile(join(dir, name), text);
    const run = resolve(import.meta.dirname, 'run.ts');
    return new Promise<{ code: number; stdout: string; stderr: string }>((done) => {
      const child = execFile(
        process.execPath,
        ['--import', 'tsx', run, '--from', dir, ...args],
        { cwd: resolve(import.meta.dirname, '../..') },
        (_error, stdout, stderr) => done({ code: child.exitCode ?? -1, stdout, stderr }),
      );
    });
  }

  const one = (name: string, value: number) =>
    `export const benchmarks = [{ name: '${name}', unit: 'ms', goal: { ratioAtMost: 1 }, grow: [1, 2], subject: () => ${value}, baseline: () => 2 }];`;

  it('prints one JSON object and nothing else on standard output', async () => {
    const { stdout, code } = await bench(
      { 'a.bench.mts': '', 'a.bench.ts': one('a', 1), 'b.bench.ts': one('b', 3) },
      '--json',
    );
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toEqual({
      a: { value: 1, unit: 'ms', baseline: 2, ratio: 0.5, goal: { ratioAtMost: 1 }, met: true },
      b: { value: 3, unit: 'ms', baseline: 2, ratio: 1.5, goal: { ratioAtMost: 1 }, met: false },
    });
  });

  it('exits 1 on an unmet goal only when strict, and always when a benchmark breaks', async () => {
    expect((await bench({ 'b.bench.ts': one('b', 3) }, '--strict')).code).toBe(1);
    const broken = await bench(
      { 'b.bench.ts': one('b', 3).replace('() => 3', "() => { throw new Error('oh'); }") },
      '--json',
    );
    expect(broken.code).toBe(1);
    expect(JSON.parse(broken.stdout)).toEqual({ b: { error: 'oh', met: false } });
  });

  it('runs only what was asked for, and says so when that is nothing', async () => {
    const files = { 'a.bench.ts': one('first', 1), 'b.bench.ts': one('second', 1) };
    expect(Object.keys(JSON.parse((await bench(files, '--json', '--only', 'second')).stdout))).toEqual([
      'second',
    ]);
    const none = await bench(files, '--only', 'third');
    expect(none.code).toBe(1);
    expect(none.stderr).toContain('there are: first, second');
  });

  it('refuses two benchmarks of one name, and a file that lists none', async () => {
    expect((await bench({ 'a.bench.ts': one('a', 1), 'b.bench.ts': one('a', 1) })).stderr).toContain(
      'two benchmarks are named a',
    );
    expect((await bench({ 'a.bench.ts': 'export const benchmark = 1;' })).stderr).toContain(
      'a.bench.ts exports no list',
    );
  });

  it('in growth mode reports every scale', async () => {
    const { stdout } = await bench({ 'a.bench.ts': one('a', 1) }, '--json', '--grow');
    const outcome = JSON.parse(stdout).a;
    expect(outcome.steps.map(({ scale }: { scale: number }) => scale)).toEqual([1, 2]);
    expect(outcome.exponent).toBeCloseTo(0, 12);
  });
});
