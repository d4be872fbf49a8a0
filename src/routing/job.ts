import type { Step } from '../catalog/index.ts';
import type { Chain, ChainRef, Job, Step as PlanStep } from '../promise/index.ts';
import type { RoutedSlip } from './routed.ts';
import { type SheetsOf, type StepWork, spoilageFactor, type WorkGroup, workGroups } from './work.ts';

/** Most batches the plan takes for one step; more are told as fewer, longer ones of the same total. */
const MOST_BATCHES = 100_000;

/**
 * The work of an order as the plan takes it: a chain for every group of prints that runs as one. Sheets are printed
 * ahead and handed on as they get ready; on a piece with several methods the later method (by work order) begins when
 * the earlier one is through with all of its pieces. Spoiled pieces are counted in as time.
 *
 * @param id of the job
 */
export function jobOf(routed: RoutedSlip, id: string, sheetsOf: SheetsOf): Job {
  return jobOfGroups(workGroups(routed, sheetsOf), id);
}

/** As `jobOf`, of groups already made. */
export function jobOfGroups(groups: readonly WorkGroup[], id: string): Job {
  return { id, chains: groups.map((group, index) => chainOf(group, index, groups)) };
}

function chainOf(group: WorkGroup, index: number, groups: readonly WorkGroup[]): Chain {
  const steps = group.steps.map((work) => planStep(work, group));
  const after = waitsFor(group, index, groups);
  return after.length > 0 ? { steps, after } : { steps };
}

function waitsFor(group: WorkGroup, index: number, groups: readonly WorkGroup[]): ChainRef[] {
  if (group.kind === 'sheets') return [];
  const { afterSheets } = group;
  const refs: ChainRef[] = [];
  if (afterSheets !== undefined) {
    const sharers = groups.filter((other) => other.afterSheets === afterSheets).length;
    refs.push({ chain: afterSheets, flow: sharers === 1 ? 'on' : 'whole' });
  }
  const lines = new Set(group.prints.map(({ lineIndex }) => lineIndex));
  for (let before = 0; before < index; before++) {
    const other = groups[before]!;
    if (other.kind === 'sheets' || other.method === group.method) continue;
    if (other.prints.some(({ lineIndex }) => lines.has(lineIndex)))
      refs.push({ chain: before, flow: 'whole' });
  }
  return refs;
}

function planStep(work: StepWork, group: WorkGroup): PlanStep {
  const { step, station } = work;
  if (station === undefined) return { kind: 'wait', key: step.id, waitS: step.waitS };
  const batches = Math.min(work.batches, MOST_BATCHES);
  return {
    kind: 'work',
    key: step.id,
    station: station.id,
    setUpS: work.setUpPerOrderS + work.setUpPerDesignS,
    batches,
    batchS: (work.runS * spoilageFactor(group.method)) / batches,
    setUpCrewShare: step.setUpCrewShare,
    crewShare: step.crewShare,
    ...(step.like.length === 0
      ? {}
      : { like: { key: likeKey(step, group), sharedSetUpS: work.setUpPerDesignS } }),
  };
}

/** Work is alike where everything the step lists is the same. */
function likeKey(step: Step, group: WorkGroup): string {
  return step.like.map((what) => `${what}=${likeValue(what, step, group)}`).join(' ');
}

function likeValue(what: Step['like'][number], step: Step, group: WorkGroup): string {
  switch (what) {
    case 'method':
      return group.method.id;
    case 'temperature':
      return String(step.settings.temperatureC ?? '');
    case 'cloth-color':
      return listed(group, ({ color }) => color.hex);
    case 'blank':
      return listed(group, ({ blank }) => blank.id);
  }
}

function listed(group: WorkGroup, of: (line: WorkGroup['prints'][number]['line']) => string): string {
  return [...new Set(group.prints.map(({ line }) => of(line)))].sort().join('+');
}

/** Seconds of work of the longest step; the plan is not asked for what no horizon could hold. */
export function longestStepS(job: Job): number {
  let longest = 0;
  for (const { steps } of job.chains)
    for (const step of steps)
      if (step.kind === 'work') longest = Math.max(longest, step.setUpS + step.batches * step.batchS);
  return longest;
}
