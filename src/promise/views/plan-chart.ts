import { type DayNumber, dayOfNumber } from '../calendar/day.ts';
import { commonSpans, mergeSpans, type Span } from '../calendar/open-time.ts';
import type { ShopHours, Unit } from '../calendar/shop-hours.ts';
import { hoursOfBooking, unitOf, type WorkPiece, workPieces } from '../plan/plan.ts';
import type { Booking, Day, EpochS, Job } from '../types.ts';
import { daysShown, pieceByDay } from './plan-summary.ts';

/** Of bookings with more batches the ends are not listed: nobody could tell them apart. */
const MOST_BATCH_ENDS = 400;

/** A stretch of a booking's work within one day. */
export type DrawnWork = WorkPiece & {
  readonly booking: Booking;
  /** how many batches the whole booking runs; 0: it is a set-up alone. */
  readonly batches: number;
  /** when a batch ends and the next begins, within the stretch; ascending; none of a booking of over 400 batches. */
  readonly batchEnds: readonly EpochS[];
};

/** One of a station's units on one day. */
export type UnitDay = {
  readonly station: string;
  /** from 0. */
  readonly unit: number;
  readonly open: readonly Span[];
  /** maintenance and what the floor reported, also where the unit would be closed anyway. */
  readonly outOfUse: readonly Span[];
  /** in order of time. */
  readonly work: readonly DrawnWork[];
};

/** From `at` on, until the next. */
export type CrewMoment = {
  readonly at: EpochS;
  /** people there. */
  readonly there: number;
  /** people needed by what is booked. */
  readonly busy: number;
};

/** One day of the plan as it can be drawn: instants, not sums. */
export type DrawnDay = {
  readonly day: Day;
  /** its midnights on the shop's clock; 23 to 25 hours apart where clocks are changed. */
  readonly from: EpochS;
  readonly to: EpochS;
  /** in the order of the shop's stations. */
  readonly units: readonly UnitDay[];
  /** ascending; the first at `from`. */
  readonly crew: readonly CrewMoment[];
};

/**
 * The plan day by day, unit by unit, for drawing it. Work over midnight is in both days.
 *
 * @param orders jobs by id, which know how many batches a booking runs
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
  const days = daysShown(shop, from, count);
  const first = days[0]!;
  const work = days.map(() => shop.units.map((): DrawnWork[] => []));
  for (const booking of bookings) {
    const unit = unitOf(shop, booking);
    const batches = batchesOf(booking, orders.get(booking.job)?.job);
    const ends = batchEnds(shop, booking, batches);
    for (const piece of workPieces(shop, booking)) {
      for (const { day, ...span } of pieceByDay(shop, piece.from, piece.to)) {
        work[day - first]?.[unit]?.push({
          ...piece,
          ...span,
          booking,
          batches,
          batchEnds: piece.part === 'run' ? ends.filter((end) => end > span.from && end < span.to) : [],
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

/** When batches of a booking end, but for the last; evenly over its run, as the plan takes them. */
function batchEnds(shop: ShopHours, booking: Booking, batches: number): EpochS[] {
  if (batches > MOST_BATCH_ENDS) return [];
  const hours = hoursOfBooking(shop.units[unitOf(shop, booking)]!, booking);
  const runWork = hours.workAt(booking.runStart);
  const runS = hours.workAt(booking.end) - runWork;
  return Array.from({ length: Math.max(0, batches - 1) }, (_, k) =>
    hours.endAt(runWork + ((k + 1) * runS) / batches),
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

function outOfUse(shop: ShopHours, { station, unit }: Unit, day: Span): Span[] {
  const spec = shop.spec.stations.find(({ id }) => id === station);
  const closures = (spec?.closures ?? []).filter((each) => each.unit === undefined || each.unit === unit);
  return commonSpans(mergeSpans(closures), [day]);
}

function crewMoments(shop: ShopHours, from: EpochS, to: EpochS, work: readonly DrawnWork[]): CrewMoment[] {
  const { crew } = shop.spec;
  const changes = new Map<EpochS, { there: number; busy: number }>([[from, { there: 0, busy: 0 }]]);
  const add = (span: Span, what: 'there' | 'busy', people: number): void => {
    for (const [at, sign] of [
      [span.from, 1],
      [span.to, -1],
    ] as const) {
      const change = changes.get(at) ?? { there: 0, busy: 0 };
      change[what] += sign * people;
      changes.set(at, change);
    }
  };
  for (const span of shop.crewHours.between(from, to)) add(span, 'there', crew.count);
  for (const away of crew.away ?? [])
    for (const span of shop.crewHours.between(Math.max(from, away.from), Math.min(to, away.to)))
      add(span, 'there', -away.count);
  for (const piece of work) if (piece.crewShare > 0) add(piece, 'busy', piece.crewShare);
  let there = 0;
  let busy = 0;
  return [...changes]
    .sort(([a], [b]) => a - b)
    .filter(([at]) => at < to)
    .map(([at, change]) => {
      there += change.there;
      busy += change.busy;
      // shares such as 1/3 do not add up to nothing exactly
      return { at, there: Math.max(0, there), busy: Math.max(0, Math.round(busy * 1e6) / 1e6) };
    });
}
