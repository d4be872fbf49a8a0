import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import type { WorkStep } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';
import type { BatchFlow } from './batch-flow.ts';
import { type Placing, placeOnUnit } from './place-step.ts';
import { hoursOfStep, StepRequest } from './step-request.ts';

/**
 * The placings of a step on the units of its station, earliest first. Empty units with the same hours count as one.
 *
 * @param all false: placings that cannot be the earliest may be left out
 */
export function unitPlacings(
  plan: Plan,
  step: WorkStep,
  input: readonly BatchFlow[],
  notBefore: EpochS,
  all: boolean,
): Placing[] {
  const station = plan.shop.stations.get(step.station)!;
  const endOfUnits = station.firstUnit + station.count;
  const placings: Placing[] = [];
  const emptySeen = new Set<OpenHours>();
  let request: StepRequest | undefined;
  let best: Placing | undefined;
  for (let unit = station.firstUnit; unit < endOfUnits; unit++) {
    const hours = hoursOfStep(plan.shop.units[unit]!, step);
    if (plan.schedules[unit]!.size === 0) {
      if (emptySeen.has(hours)) continue;
      emptySeen.add(hours);
    }
    if (request?.hours !== hours) request = new StepRequest(plan, step, hours, input, notBefore);
    const latestRunOpenS =
      best && !all ? hours.openSecondsAt(best.end) - request.runS : Number.POSITIVE_INFINITY;
    const placing = placeOnUnit(plan, unit, request, latestRunOpenS);
    if (!placing) continue;
    placings.push(placing);
    if (!best || comparePlacings(placing, best) < 0) best = placing;
    if (all || !station.sameHours || unit + 1 === endOfUnits) continue;
    // nothing can be earlier than on an idle unit
    const isUnbeatable =
      placing.runOpenS === request.idleRunOpenS && (placing.joined || !request.canShareSetUp);
    if (isUnbeatable) return [placing];
  }
  return placings.sort(comparePlacings);
}

/** By end, then start of the run, then the shorter set-up, then the order of units. */
function comparePlacings(a: Placing, b: Placing): number {
  return a.end - b.end || a.runStart - b.runStart || b.start - a.start || a.unit - b.unit;
}
