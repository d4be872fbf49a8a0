import type { ShopHours } from '../calendar/shop-hours.ts';
import { crewParts } from '../plan/booked-work.ts';
import type { Job, WorkStep } from '../plan/job.ts';
import type { PlanReason } from './insertion.ts';

/** Why a job cannot be placed in a shop even when nothing is booked; empty when it can. */
export function infeasibleReasons(shop: ShopHours, job: Job): PlanReason[] {
  return job.chains.flatMap((chain) =>
    chain.steps.flatMap((step) => (step.kind === 'wait' ? [] : reasonsOf(shop, step))),
  );
}

function reasonsOf(shop: ShopHours, step: WorkStep): PlanReason[] {
  const station = shop.stations.get(step.station);
  const params = { station: step.station, step: step.key };
  if (!station) return [{ code: 'no-station', params }];
  const share = Math.max(
    step.setUpS > 0 ? step.setUpCrewShare : 0,
    step.batches * step.batchS > 0 ? step.crewShare : 0,
  );
  if (crewParts(share) > shop.crewParts) {
    return [{ code: 'crew-too-small', params: { ...params, share, crew: shop.spec.crew.count } }];
  }
  const units = shop.units.slice(station.firstUnit, station.firstUnit + station.count);
  const isOpen = units.some((unit) => (crewParts(share) > 0 ? unit.crewedHours : unit.hours).totalS > 0);
  return isOpen ? [] : [{ code: 'no-hours', params }];
}
