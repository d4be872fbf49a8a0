import type { OpenHours } from '../calendar/open-time.ts';
import type { Plan } from '../plan/plan.ts';
import type { EpochS, WorkStep } from '../types.ts';
import type { BatchFlow } from './batch-flow.ts';
import { hoursOfStep, type Placing, placeOnUnit, StepRequest } from './place-step.ts';

/**
 * The placings of a step on the units of its station, earliest first; alike empty units count as one.
 *
 * @param all also those that are sure not to come first
 */
export function placingsOf(
  plan: Plan,
  step: WorkStep,
  feeds: readonly BatchFlow[],
  notBefore: EpochS,
  all: boolean,
): Placing[] {
  const station = plan.shop.stations.get(step.station)!;
  const placings: Placing[] = [];
  const empty = new Set<OpenHours>();
  let demand = null as StepRequest | null;
  let best = null as Placing | null;
  for (let unit = station.firstUnit; unit < station.firstUnit + station.count; unit++) {
    const hours = hoursOfStep(plan.shop.units[unit]!, step);
    if (plan.tracks[unit]!.size === 0) {
      if (empty.has(hours)) continue;
      empty.add(hours);
    }
    if (demand?.hours !== hours) demand = new StepRequest(plan, step, hours, feeds, notBefore);
    const latestRun = best && !all ? hours.workAt(best.end) - demand.runS : Number.POSITIVE_INFINITY;
    const placing = placeOnUnit(plan, unit, demand, latestRun);
    if (!placing) continue;
    placings.push(placing);
    if (!best || inOrder(placing, best) < 0) best = placing;
    if (all || !station.alike || unit + 1 === station.firstUnit + station.count) continue;
    // nothing can be earlier than an idle unit
    const unbeaten = placing.runWork === demand.idleWork && (placing.joined || !demand.sharesSetUp);
    if (unbeaten) return [placing];
  }
  return placings.sort(inOrder);
}

/** Ends earlier, runs earlier, is set up for a shorter time, is listed first. */
function inOrder(a: Placing, b: Placing): number {
  return a.end - b.end || a.runStart - b.runStart || b.start - a.start || a.unit - b.unit;
}
