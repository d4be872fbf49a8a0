import { type DayNumber, dayNumber, dayOfNumber } from '../calendar/day.ts';
import { mergeSpans } from '../calendar/open-time.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import { unitOf, workPieces } from '../plan/plan.ts';
import { type Booking, type Day, type EpochS, PlanInputError } from '../types.ts';

/** A stretch of work as the owner sees it; instants in ISO 8601, UTC. */
export type ViewedWork = {
  readonly job: string;
  readonly step: string;
  readonly part: 'set-up' | 'run';
  /** from 0. */
  readonly unit: number;
  readonly from: string;
  readonly to: string;
  readonly crewShare: number;
  readonly state: Booking['state'];
};

/** One station on one day of the shop's clock. Seconds are summed over its units. */
export type StationDay = {
  readonly day: Day;
  readonly openS: number;
  readonly bookedS: number;
  /** in order of time, then unit. */
  readonly work: readonly ViewedWork[];
};

/** The plan of some days: plain data, ready for JSON. */
export type PlanSummary = {
  readonly from: Day;
  /** the last day shown. */
  readonly to: Day;
  readonly timeZone: string;
  readonly stations: readonly {
    readonly station: string;
    readonly count: number;
    readonly days: readonly StationDay[];
  }[];
  /** people-seconds there and booked. */
  readonly crew: readonly { readonly day: Day; readonly openS: number; readonly bookedS: number }[];
};

/** An instant in ISO 8601, UTC, to the second. */
export function isoInstant(at: EpochS): string {
  return new Date(at * 1000).toISOString().replace('.000Z', 'Z');
}

/**
 * The plan by station and day. Work over midnight is shown in two parts.
 *
 * @param from first day shown
 * @param count days, 1 to 400; only those the shop was compiled for
 */
export function planByStationAndDay(
  shop: ShopHours,
  bookings: Iterable<Booking>,
  from: Day,
  count: number,
): PlanSummary {
  const days = daysShown(shop, from, count);
  const first = days[0]!;
  const crew = new Map<DayNumber, number>();
  /** by station and day. */
  const work = new Map<string, ViewedWork[]>();
  for (const booking of bookings) {
    unitOf(shop, booking);
    for (const piece of workPieces(shop, booking)) {
      for (const { day, from: start, to } of pieceByDay(shop, piece.from, piece.to)) {
        if (day < first || day >= first + count) continue;
        crew.set(day, (crew.get(day) ?? 0) + (to - start) * piece.crewShare);
        const key = `${day} ${booking.station}`;
        const list = work.get(key) ?? [];
        work.set(key, list);
        list.push({
          job: booking.job,
          step: booking.key,
          part: booking.part === 'set-up' ? 'set-up' : piece.part,
          unit: booking.unit,
          from: isoInstant(start),
          to: isoInstant(to),
          crewShare: piece.crewShare,
          state: booking.state,
        });
      }
    }
  }
  return {
    from,
    to: dayOfNumber(first + count - 1),
    timeZone: shop.clock.timeZone,
    stations: [...shop.stations.values()].map((station) => ({
      station: station.id,
      count: station.count,
      days: days.map((day) => {
        const units = shop.units.slice(station.firstUnit, station.firstUnit + station.count);
        const list = (work.get(`${day} ${station.id}`) ?? []).sort(inTime);
        return {
          day: dayOfNumber(day),
          openS: units.reduce((sum, unit) => sum + openOn(shop, day, unit.hours), 0),
          bookedS: occupied(list),
          work: list,
        };
      }),
    })),
    crew: days.map((day) => ({
      day: dayOfNumber(day),
      openS: openOn(shop, day, shop.crewHours) * shop.spec.crew.count - awayOn(shop, day),
      bookedS: Math.round(crew.get(day) ?? 0),
    })),
  };
}

function inTime(a: ViewedWork, b: ViewedWork): number {
  return a.from < b.from ? -1 : a.from > b.from ? 1 : a.unit - b.unit;
}

/**
 * The days from one on.
 *
 * @param count 1 to 400; only days the shop was compiled for
 * @throws PlanInputError naming what is asked for and what there is
 */
export function daysShown(shop: ShopHours, from: Day, count: number): DayNumber[] {
  const first = dayNumber(from, 'from');
  const end = shop.firstDay + shop.days;
  if (!Number.isInteger(count) || count < 1 || count > 400 || first < shop.firstDay || first + count > end) {
    throw new PlanInputError(
      `${count} days from '${from}' are asked for; it must be 1 to 400 days within ${dayOfNumber(shop.firstDay)} to ${dayOfNumber(end - 1)}`,
    );
  }
  return Array.from({ length: count }, (_, i) => first + i);
}

/** A stretch cut at the midnights of the shop's clock. */
export function* pieceByDay(
  shop: ShopHours,
  from: EpochS,
  to: EpochS,
): Generator<{ day: DayNumber; from: EpochS; to: EpochS }> {
  for (let start = from, day = shop.clock.dayAt(from); start < to; day++) {
    const end = Math.min(to, shop.clock.startOf(day + 1));
    yield { day, from: start, to: end };
    start = end;
  }
}

function openOn(shop: ShopHours, day: DayNumber, hours: ShopHours['hours']): number {
  return hours.workAt(shop.clock.startOf(day + 1)) - hours.workAt(shop.clock.startOf(day));
}

/** People-seconds of the crew's hours in which people are away. */
function awayOn(shop: ShopHours, day: DayNumber): number {
  const from = shop.clock.startOf(day);
  const to = shop.clock.startOf(day + 1);
  return (shop.spec.crew.away ?? []).reduce((sum, away) => {
    const spans = shop.crewHours.between(Math.max(from, away.from), Math.min(to, away.to));
    return sum + away.count * spans.reduce((total, span) => total + span.to - span.from, 0);
  }, 0);
}

/** Unit-seconds covered by work. */
function occupied(work: readonly ViewedWork[]): number {
  let total = 0;
  for (const unit of new Set(work.map((each) => each.unit))) {
    const spans = work
      .filter((each) => each.unit === unit)
      .map((each) => ({ from: Date.parse(each.from) / 1000, to: Date.parse(each.to) / 1000 }));
    for (const span of mergeSpans(spans)) total += span.to - span.from;
  }
  return total;
}
