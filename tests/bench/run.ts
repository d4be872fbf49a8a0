import { readdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import {
  type Benchmark,
  type Broken,
  type GrowthVerdict,
  judge,
  judgeGrowth,
  type Verdict,
} from './harness.ts';

const usage = `npm run bench [-- options]
  --only NAME   only this benchmark (may be given more than once; part of a name will do)
  --grow        growth mode: the same work 1, 10, 100 times over
  --json        one JSON object on standard output, progress on standard error
  --strict      exit 1 when a goal is not met
  --from DIR    look for *.bench.ts files in DIR and below it; default tests/bench
  --list        names only`;

type Outcome = Verdict | GrowthVerdict | Broken;

async function load(folder: string): Promise<readonly Benchmark[]> {
  const files = (await readdir(folder, { recursive: true }))
    .filter((name) => name.endsWith('.bench.ts'))
    .sort();
  const all: Benchmark[] = [];
  for (const file of files) {
    const module = (await import(pathToFileURL(join(folder, file)).href)) as {
      benchmarks?: readonly Benchmark[];
    };
    if (!Array.isArray(module.benchmarks)) throw new Error(`${file} exports no list named "benchmarks"`);
    for (const benchmark of module.benchmarks as readonly Benchmark[]) {
      if (all.some(({ name }) => name === benchmark.name))
        throw new Error(`two benchmarks are named ${benchmark.name}`);
      all.push(benchmark);
    }
  }
  return all;
}

function round(figure: number): string {
  return figure >= 100 ? figure.toFixed(0) : figure.toPrecision(3);
}

function describe(name: string, outcome: Outcome): string {
  if ('error' in outcome) return `BROKE  ${name}: ${outcome.error}`;
  const mark = outcome.met ? 'met   ' : 'UNMET ';
  const goal = Object.entries(outcome.goal)
    .map(([bound, figure]) => `${bound} ${figure}`)
    .join(', ');
  if ('steps' in outcome) {
    const steps = outcome.steps.map(
      ({ scale, value, ratio }) => `x${scale} ${round(value)} (ratio ${round(ratio)})`,
    );
    const slopes = `grows as work^${round(outcome.exponent)}, baseline ^${round(outcome.baselineExponent)}`;
    return `${mark} ${name}: ${steps.join(', ')} ${outcome.unit}; ${slopes} [${goal}]`;
  }
  const { value, baseline, ratio, unit } = outcome;
  return `${mark} ${name}: ${round(value)} ${unit} against ${round(baseline)}, ratio ${round(ratio)} [${goal}]`;
}

const { values: options } = parseArgs({
  options: {
    only: { type: 'string', multiple: true, default: [] },
    grow: { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
    strict: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
    from: { type: 'string', default: import.meta.dirname },
  },
});

if (options.help) {
  process.stdout.write(`${usage}\n`);
  process.exit(0);
}

const all = await load(resolve(options.from));
const chosen = all
  .filter(({ name }) => options.only.length === 0 || options.only.some((part) => name.includes(part)))
  .filter(({ grow }) => !options.grow || grow !== undefined);
if (options.list) {
  process.stdout.write(chosen.map(({ name }) => `${name}\n`).join(''));
  process.exit(0);
}
if (chosen.length === 0) {
  process.stderr.write(
    `no benchmark to run; there are: ${all.map(({ name }) => name).join(', ') || 'none'}\n`,
  );
  process.exit(1);
}

const outcomes: Record<string, Outcome> = {};
for (const benchmark of chosen) {
  let outcome: Outcome;
  try {
    outcome = await (options.grow ? judgeGrowth(benchmark) : judge(benchmark));
  } catch (error) {
    outcome = { error: error instanceof Error ? error.message : String(error), met: false };
  }
  outcomes[benchmark.name] = outcome;
  const line = `${describe(benchmark.name, outcome)}\n`;
  if (options.json) process.stderr.write(line);
  else process.stdout.write(line);
}
if (options.json) process.stdout.write(`${JSON.stringify(outcomes)}\n`);

const broke = Object.values(outcomes).some((outcome) => 'error' in outcome);
const unmet = Object.values(outcomes).some(({ met }) => !met);
// A worker or pool that a benchmark left behind must not keep the run alive.
process.exit(broke || (options.strict && unmet) ? 1 : 0);
