import type { FloorEvent } from '../../src/promise/index.ts';
import type { PlanSnapshot } from './plan-cache.ts';

/** A report from the floor: an event at a step or a station, or a station that works again. Times are epoch seconds. */
export type FloorReport =
  | FloorEvent
  | {
      readonly kind: 'up';
      readonly station: string;
      readonly unit?: number | undefined;
      readonly at: number;
    };

/** Why a report was refused. */
export type FloorFault = {
  /** index of the report. */
  readonly event: number;
  readonly message: string;
};

/** How far a clock on the floor may be ahead of ours, s. */
const MAX_CLOCK_SKEW_S = 300;

/** Finds every report that cannot be true of the plan. */
export function findFaults(
  snapshot: PlanSnapshot,
  reports: readonly FloorReport[],
  nowS: number,
): FloorFault[] {
  return reports.flatMap((report, index) => {
    const message = findFault(snapshot, report, nowS);
    return message === undefined ? [] : [{ event: index, message }];
  });
}

function findFault(snapshot: PlanSnapshot, report: FloorReport, nowS: number): string | undefined {
  const { from } = snapshot.plan.shop;
  if (report.kind !== 'down' && (report.at < from || report.at > nowS + MAX_CLOCK_SKEW_S))
    return `"at" is ${instantOf(report.at)}; what is reported has happened, from ${instantOf(from)} to now, ${instantOf(nowS)}`;
  return report.kind === 'down' || report.kind === 'up'
    ? findStationFault(snapshot, report)
    : findStepFault(snapshot, report);
}

function findStationFault(
  snapshot: PlanSnapshot,
  report: Extract<FloorReport, { kind: 'down' | 'up' }>,
): string | undefined {
  const { stations } = snapshot.plan.shop;
  const station = stations.get(report.station);
  if (station === undefined)
    return `there is no station "${report.station}"; there are: ${[...stations.keys()].join(', ')}`;
  if (report.unit !== undefined && report.unit >= station.count)
    return `station "${report.station}" has units 0 to ${station.count - 1}, not ${report.unit}`;
  return report.kind === 'up' || report.to > report.from ? undefined : 'an outage ends after it begins';
}

function findStepFault(
  snapshot: PlanSnapshot,
  report: Exclude<FloorReport, { kind: 'down' | 'up' }>,
): string | undefined {
  const order = snapshot.orders.get(report.job);
  if (order === undefined) return `order "${report.job}" has no work in the plan`;
  const step = order.job.chains[report.chain]?.steps[report.step];
  if (step === undefined) return `order "${report.job}" has no step ${report.step} in chain ${report.chain}`;
  if (report.kind === 'spoiled')
    return report.pieces <= report.ofPieces
      ? undefined
      : `"pieces" is ${report.pieces}; of ${report.ofPieces} pieces 1 to ${report.ofPieces} can be spoiled`;
  const booking = order.bookings.find(
    (each) => each.chain === report.chain && each.step === report.step && each.part === 'all',
  );
  if (booking === undefined)
    return `step ${report.step} in chain ${report.chain} of order "${report.job}" is on no station`;
  if (report.kind === 'finished' || report.unit === undefined) return undefined;
  const count = snapshot.plan.shop.stations.get(booking.station)?.count ?? 0;
  return report.unit < count
    ? undefined
    : `station "${booking.station}" has units 0 to ${count - 1}, not ${report.unit}`;
}

function instantOf(epochS: number): string {
  return new Date(epochS * 1000).toISOString();
}
