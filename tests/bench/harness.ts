/** What a benchmark promises; every bound given must hold. Ratios are subject over baseline in the same run. */
export type Goal = {
  readonly ratioAtMost?: number;
  readonly ratioAtLeast?: number;
  readonly valueAtMost?: number;
  readonly valueAtLeast?: number;
  /** In growth mode: the largest exponent p allowed when the subject's figure grows as work^p. */
  readonly growthAtMost?: number;
};

/**
 * One thing measured against a baseline of the same run, so that a slow or busy machine slows both alike.
 * A benchmark file exports `benchmarks: Benchmark[]`.
 */
export type Benchmark = {
  /** kebab-case, one of a kind over all files. */
  readonly name: string;
  /** What both figures are in: 'ms', 'requests/s', 'bytes'. */
  readonly unit: string;
  readonly goal: Goal;
  /** How many measured pairs; default 7. */
  readonly rounds?: number;
  /** How many unmeasured pairs before them; default 2. */
  readonly warmUps?: number;
  /** Prepares inputs; not measured. `scale` is 1 except in growth mode. */
  setUp?(scale: number): Promise<void> | void;
  /** Does the work once and resolves to its figure, such as the milliseconds it took: see {@link timed}. */
  subject(scale: number): Promise<number> | number;
  /** The same figure for the baseline: a rival, a naive form, the bare platform, or a budget. */
  baseline(scale: number): Promise<number> | number;
  tearDown?(): Promise<void> | void;
  /** How many times the work in growth mode, such as [1, 10, 100]; none means it takes no part in it. */
  readonly grow?: readonly number[];
};

/** Medians of one benchmark's rounds. `ratio` is value over baseline. */
export type Measured = { readonly value: number; readonly baseline: number; readonly ratio: number };

export type Verdict = Measured & { readonly unit: string; readonly goal: Goal; readonly met: boolean };

export type GrowthStep = Measured & { readonly scale: number };

export type GrowthVerdict = {
  readonly unit: string;
  readonly steps: readonly GrowthStep[];
  /** p of the least-squares line through log(value) over log(scale): 1 is linear, 2 is quadratic. */
  readonly exponent: number;
  readonly baselineExponent: number;
  readonly goal: Goal;
  readonly met: boolean;
};

/** A benchmark that broke: it was not measured, so it is not met. */
export type Broken = { readonly error: string; readonly met: false };

/** Runs `work` and gives the milliseconds it took. */
export async function timed(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/** @throws RangeError when there are no figures */
export function median(figures: readonly number[]): number {
  const sorted = [...figures].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle];
  if (upper === undefined) throw new RangeError('the median of no figures');
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
}

/** Whether every given bound holds. A goal without a bound is a fault: it could never fail. */
export function meets(goal: Goal, { value, ratio }: Pick<Measured, 'value' | 'ratio'>): boolean {
  const bounds = [
    goal.ratioAtMost === undefined || ratio <= goal.ratioAtMost,
    goal.ratioAtLeast === undefined || ratio >= goal.ratioAtLeast,
    goal.valueAtMost === undefined || value <= goal.valueAtMost,
    goal.valueAtLeast === undefined || value >= goal.valueAtLeast,
  ];
  const given = [goal.ratioAtMost, goal.ratioAtLeast, goal.valueAtMost, goal.valueAtLeast];
  if (given.every((bound) => bound === undefined)) throw new Error('the goal sets no bound');
  return bounds.every(Boolean);
}

/** Runs warm-ups, then rounds in the order A B A B, and judges the medians. */
export async function judge(benchmark: Benchmark): Promise<Verdict> {
  const measured = await measure(benchmark, 1);
  const { unit, goal } = benchmark;
  return { ...measured, unit, goal, met: meets(goal, measured) };
}

/** Measures at each scale of `grow` and fits how fast the figure grows with the work. */
export async function judgeGrowth(benchmark: Benchmark): Promise<GrowthVerdict> {
  const steps: GrowthStep[] = [];
  for (const scale of benchmark.grow ?? []) steps.push({ scale, ...(await measure(benchmark, scale)) });
  const { unit, goal } = benchmark;
  const exponent = growthExponent(steps.map(({ scale, value }) => [scale, value]));
  const baselineExponent = growthExponent(steps.map(({ scale, baseline }) => [scale, baseline]));
  const met = goal.growthAtMost === undefined || exponent <= goal.growthAtMost;
  return { unit, steps, exponent, baselineExponent, goal, met };
}

/**
 * The slope of log(figure) over log(scale), by least squares.
 *
 * @throws RangeError for fewer than two different scales, or a scale or figure that is not above zero
 */
export function growthExponent(points: readonly (readonly [scale: number, figure: number])[]): number {
  for (const [scale, figure] of points) {
    if (!(scale > 0 && figure > 0))
      throw new RangeError(`growth at scale ${scale}, figure ${figure}: must be > 0`);
  }
  const logs = points.map(([scale, figure]) => [Math.log(scale), Math.log(figure)] as const);
  const meanX = logs.reduce((sum, [x]) => sum + x, 0) / logs.length;
  const meanY = logs.reduce((sum, [, y]) => sum + y, 0) / logs.length;
  const spread = logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  if (!(spread > 0)) throw new RangeError('growth needs at least two different scales');
  return logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0) / spread;
}

async function measure(benchmark: Benchmark, scale: number): Promise<Measured> {
  const { rounds = 7, warmUps = 2 } = benchmark;
  const values: number[] = [];
  const baselines: number[] = [];
  try {
    await benchmark.setUp?.(scale);
    for (let round = -warmUps; round < rounds; round++) {
      const value = figure(await benchmark.subject(scale), 'subject');
      const baseline = figure(await benchmark.baseline(scale), 'baseline');
      if (round < 0) continue;
      values.push(value);
      baselines.push(baseline);
    }
  } finally {
    await benchmark.tearDown?.();
  }
  const value = median(values);
  const baseline = median(baselines);
  return { value, baseline, ratio: value / baseline };
}

function figure(given: number, what: string): number {
  if (!Number.isFinite(given) || given < 0)
    throw new RangeError(`the ${what} gave ${given}, not a figure of 0 or more`);
  return given;
}
