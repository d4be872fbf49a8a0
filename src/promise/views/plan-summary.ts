import { type DayNumber, dayOfNumber } from '../calendar/day.ts';
import { mergeIntervals } from '../calendar/intervals.ts';
import type { OpenHours } from '../calendar/open-hours.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { Day } from '../calendar/time.ts';
import { workPieces } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import { dayRange, isoInstant, splitByDay } from './day-range.ts';

/** A piece of work as the owner sees it; instants in ISO 8601, UTC. */
export type SummaryWork = {
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
  readonly work: readonly SummaryWork[];
};

/** The plan of some days: plain data, ready for JSON. */
export type PlanSummary = {
  readonly from: Day;
  /** the last day, inclusive. */
  readonly to: Day;
  readonly timeZone: string;
  readonly stations: readonly {
    readonly station: string;
    readonly count: number;
    readonly days: readonly StationDay[];
  }[];
  /** person-seconds available and booked. */
  readonly crew: readonly { readonly day: Day; readonly openS: number; readonly bookedS: number }[];
};

/**
 * The plan by station and day. Work past midnight is split in two.
 *
 * @param from first day
 * @param count days, 1 to 400; only those the shop was compiled for
 * @throws PlanInputError when the shop does not know all of these days
 */
export function planByStationAndDay(
  shop: ShopHours,
  bookings: Iterable<Booking>,
  from: Day,
  count: number,
): PlanSummary {
  const days = dayRange(shop, from, count);
  const first = days[0]!;
  const crewBookedS = new Map<DayNumber, number>();
  /** by day and station. */
  const work = new Map<string, SummaryWork[]>();
  for (const booking of bookings) {
    for (const piece of workPieces(shop, booking)) {
      for (const { day, from: start, to } of splitByDay(shop, piece)) {
        if (day < first || day >= first + count) continue;
        crewBookedS.set(day, (crewBookedS.get(day) ?? 0) + (to - start) * piece.crewShare);
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
        const list = (work.get(`${day} ${station.id}`) ?? []).sort(byTimeThenUnit);
        return {
          day: dayOfNumber(day),
          openS: units.reduce((sum, unit) => sum + openSecondsOn(shop, day, unit.hours), 0),
          bookedS: unitSecondsOf(list),
          work: list,
        };
      }),
    })),
    crew: days.map((day) => ({
      day: dayOfNumber(day),
      openS: openSecondsOn(shop, day, shop.crewHours) * shop.spec.crew.count - awaySecondsOn(shop, day),
      bookedS: Math.round(crewBookedS.get(day) ?? 0),
    })),
  };
}

function byTimeThenUnit(a: SummaryWork, b: SummaryWork): number {
  return a.from < b.from ? -1 : a.from > b.from ? 1 : a.unit - b.unit;
}

function openSecondsOn(shop: ShopHours, day: DayNumber, hours: OpenHours): number {
  return hours.openSecondsAt(shop.clock.startOf(day + 1)) - hours.openSecondsAt(shop.clock.startOf(day));
}

/** Person-seconds of the crew's hours on a day in which people are away. */
function awaySecondsOn(shop: ShopHours, day: DayNumber): number {
  const from = shop.clock.startOf(day);
  const to = shop.clock.startOf(day + 1);
  return (shop.spec.crew.away ?? []).reduce((sum, away) => {
    const intervals = shop.crewHours.between(Math.max(from, away.from), Math.min(to, away.to));
    return sum + away.count * intervals.reduce((total, interval) => total + interval.to - interval.from, 0);
  }, 0);
}

/** Unit-seconds in which there is work. */
function unitSecondsOf(work: readonly SummaryWork[]): number {
  let total = 0;
  for (const unit of new Set(work.map((each) => each.unit))) {
    const intervals = work
      .filter((each) => each.unit === unit)
      .map((each) => ({ from: Date.parse(each.from) / 1000, to: Date.parse(each.to) / 1000 }));
    for (const { from, to } of mergeIntervals(intervals)) total += to - from;
  }
  return total;
}
