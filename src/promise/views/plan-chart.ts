import { type DayNumber, dayOfNumber } from '../calendar/day.ts';
import { type Interval, intersectIntervals, mergeIntervals } from '../calendar/intervals.ts';
import type { ShopHours, Unit } from '../calendar/shop-hours.ts';
import type { Day, EpochS } from '../calendar/time.ts';
import { hoursOfBooking, unitIndexOf, type WorkPiece, workPieces } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job } from '../plan/job.ts';
import { dayRange, splitByDay } from './day-range.ts';

/** Batch ends of bookings with more batches are not listed: on a chart they could not be told apart. */
const MAX_BATCHES = 400;

/** A booking's work within one day, between two interruptions. */
export type DrawnWork = WorkPiece & {
  readonly booking: Booking;
  /** number of batches of the whole booking; 0 for a set-up alone. */
  readonly batches: number;
  /** when a batch ends and the next begins, ascending; empty for bookings of over 400 batches. */
  readonly batchEnds: readonly EpochS[];
};

/** One of a station's units on one day. */
export type UnitDay = {
  readonly station: string;
  /** from 0. */
  readonly unit: number;
  readonly open: readonly Interval[];
  /** maintenance and reported outages, even when the unit would be closed anyway. */
  readonly outOfUse: readonly Interval[];
  /** in order of time. */
  readonly work: readonly DrawnWork[];
};

/** The crew from `at` until the next entry. */
export type CrewMoment = {
  readonly at: EpochS;
  /** people present. */
  readonly there: number;
  /** people needed by booked work. */
  readonly busy: number;
};

/** One day of the plan as data for drawing it: instants, not sums. */
export type DrawnDay = {
  readonly day: Day;
  /** midnight to midnight on the shop's clock; 23 to 25 hours where clocks are changed. */
  readonly from: EpochS;
  readonly to: EpochS;
  /** in the order of the shop's stations. */
  readonly units: readonly UnitDay[];
  /** ascending; the first at `from`. */
  readonly crew: readonly CrewMoment[];
};

/**
 * The plan by day and unit, as data for drawing it. Work past midnight is split in two.
 *
 * @param orders by job id; they give the number of batches of a booking
 * @param from first day
 * @param count days, 1 to 400; only those the shop was compiled for
 * @throws PlanInputError when the shop does not know all of these days
 */
export function drawnDays(
  shop: ShopHours,
  bookings: Iterable<Booking>,
  orders: ReadonlyMap<string, { readonly job: Job }>,
  from: Day,
  count: number,
): DrawnDay[] {
  const days = dayRange(shop, from, count);
  const first = days[0]!;
  const work = days.map(() => shop.units.map((): DrawnWork[] => []));
  for (const booking of bookings) {
    const unit = unitIndexOf(shop, booking);
    const batches = batchesOf(booking, orders.get(booking.job)?.job);
    const ends = batchEnds(shop, booking, batches);
    for (const piece of workPieces(shop, booking)) {
      for (const { day, from: start, to } of splitByDay(shop, piece)) {
        work[day - first]?.[unit]?.push({
          ...piece,
          from: start,
          to,
          booking,
          batches,
          batchEnds: piece.part === 'run' ? ends.filter((end) => end > start && end < to) : [],
        });
      }
    }
  }
  return days.map((day, i) => dayOf(shop, day, work[i]!));
}

function batchesOf(booking: Booking, job: Job | undefined): number {
  const step = job?.chains[booking.chain]?.steps[booking.step];
  return booking.part === 'all' && step?.kind === 'work' ? step.batches : 0;
}

/** When the batches of a booking end, except the last, assuming that all take the same time. */
function batchEnds(shop: ShopHours, booking: Booking, batches: number): EpochS[] {
  if (batches > MAX_BATCHES) return [];
  const hours = hoursOfBooking(shop, booking);
  const runOpenS = hours.openSecondsAt(booking.runStart);
  const runS = hours.openSecondsAt(booking.end) - runOpenS;
  return Array.from({ length: Math.max(0, batches - 1) }, (_, k) =>
    hours.endAt(runOpenS + ((k + 1) * runS) / batches),
  );
}

function dayOf(shop: ShopHours, day: DayNumber, work: readonly DrawnWork[][]): DrawnDay {
  const from = shop.clock.startOf(day);
  const to = shop.clock.startOf(day + 1);
  return {
    day: dayOfNumber(day),
    from,
    to,
    units: shop.units.map((unit, i) => ({
      station: unit.station,
      unit: unit.unit,
      open: unit.hours.between(from, to),
      outOfUse: outOfUse(shop, unit, { from, to }),
      work: work[i]!.sort((a, b) => a.from - b.from),
    })),
    crew: crewMoments(shop, from, to, work.flat()),
  };
}

function outOfUse(shop: ShopHours, { station, unit }: Unit, day: Interval): Interval[] {
  const spec = shop.spec.stations.find(({ id }) => id === station);
  const closures = (spec?.closures ?? []).filter((each) => each.unit === undefined || each.unit === unit);
  return intersectIntervals(mergeIntervals(closures), [day]);
}

function crewMoments(shop: ShopHours, from: EpochS, to: EpochS, work: readonly DrawnWork[]): CrewMoment[] {
  const { crew } = shop.spec;
  const changes = new Map<EpochS, { there: number; busy: number }>([[from, { there: 0, busy: 0 }]]);
  const add = ({ from: start, to: end }: Interval, what: 'there' | 'busy', people: number): void => {
    for (const [at, sign] of [
      [start, 1],
      [end, -1],
    ] as const) {
      const change = changes.get(at) ?? { there: 0, busy: 0 };
      change[what] += sign * people;
      changes.set(at, change);
    }
  };
  for (const open of shop.crewHours.between(from, to)) add(open, 'there', crew.count);
  for (const away of crew.away ?? [])
    for (const open of shop.crewHours.between(Math.max(from, away.from), Math.min(to, away.to)))
      add(open, 'there', -away.count);
  for (const piece of work) if (piece.crewShare > 0) add(piece, 'busy', piece.crewShare);
  let there = 0;
  let busy = 0;
  return [...changes]
    .sort(([a], [b]) => a - b)
    .filter(([at]) => at < to)
    .map(([at, change]) => {
      there += change.there;
      busy += change.busy;
      // shares such as 1/3 do not add up exactly
      return { at, there: Math.max(0, there), busy: Math.max(0, Math.round(busy * 1e6) / 1e6) };
    });
}
