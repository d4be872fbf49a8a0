import { PlanInputError, requireInteger } from '../input-checks.ts';
import { type DayNumber, dayNumber, dayOfNumber, weekdayOf } from './day.ts';
import { type Interval, intersectIntervals, mergeIntervals, subtractIntervals } from './intervals.ts';
import { OpenHours } from './open-hours.ts';
import type { CrewSpec, Outage, ShopSpec, StationSpec } from './shop-spec.ts';
import type { Day, EpochS } from './time.ts';
import { type MinuteWindow, minuteWeek, WorkingDays } from './working-days.ts';
import { ZoneClock } from './zone-clock.ts';

/**
 * Parts of one person in which crew shares are counted. Divisible by 1 to 16 and by 20, so that shares such as 1/3
 * or 0.35 add up exactly; others are rounded down by less than two millionths of a person.
 */
export const CREW_PARTS = 720_720;

/** One machine of a station. */
export type Unit = {
  readonly station: string;
  /** its number within the station, from 0. */
  readonly unit: number;
  /** hours of the equipment. */
  readonly hours: OpenHours;
  /** hours in which both the equipment and the crew are there. */
  readonly crewedHours: OpenHours;
};

/** A station with its place in `ShopHours.units`. */
export type Station = {
  readonly id: string;
  readonly count: number;
  /** index of its first unit in `ShopHours.units`. */
  readonly firstUnit: number;
  /** whether all its units keep the same hours. */
  readonly sameHours: boolean;
};

/** The hours of a shop in epoch seconds, for a range of days. */
export type ShopHours = {
  readonly spec: ShopSpec;
  readonly firstDay: DayNumber;
  readonly days: number;
  /** all hours are within [from, to). */
  readonly from: EpochS;
  readonly to: EpochS;
  readonly clock: ZoneClock;
  readonly workingDays: WorkingDays;
  /** the shop's own hours. */
  readonly hours: OpenHours;
  readonly crewHours: OpenHours;
  readonly stations: ReadonlyMap<string, Station>;
  readonly units: readonly Unit[];
  /** people times CREW_PARTS. */
  readonly crewParts: number;
  /** when some of the crew are away; in CREW_PARTS. */
  readonly away: readonly (Outage & { readonly parts: number })[];
};

const MAX_DAYS = 3_660;
const MAX_COUNT = 1_000;

/**
 * Works out the hours of a shop for `days` days from `firstDay` on. Costly (time zone arithmetic per day and window):
 * keep the result for as long as the spec stays the same, and use `extendShopHours` when more days are needed.
 *
 * @param days 1 to 3660
 * @throws PlanInputError naming the value, its place and what is allowed
 */
export function compileShopHours(spec: ShopSpec, firstDay: Day, days: number): ShopHours {
  return compile(spec, dayNumber(firstDay, 'firstDay'), days, new ZoneClock(spec.calendar.timeZone));
}

/** The same shop for more days. Instants and bookings worked out with fewer days stay valid. */
export function extendShopHours(shop: ShopHours, days: number): ShopHours {
  return days <= shop.days ? shop : compile(shop.spec, shop.firstDay, days, shop.clock);
}

/** The same shop with one unit of a station (without `unit`, all of them) out of use for a while. */
export function withOutage(
  shop: ShopHours,
  station: string,
  outage: Outage & { readonly unit?: number | undefined },
): ShopHours {
  if (!shop.stations.has(station)) {
    throw new PlanInputError(
      `station is '${station}'; it must be one of ${[...shop.stations.keys()].join(', ')}`,
    );
  }
  const stations = shop.spec.stations.map((spec) =>
    spec.id === station ? { ...spec, closures: [...(spec.closures ?? []), outage] } : spec,
  );
  return compile({ ...shop.spec, stations }, shop.firstDay, shop.days, shop.clock);
}

/** The days a shop was compiled for: the first, and the first one after them. */
export function shopDays(shop: ShopHours): { from: Day; to: Day } {
  return { from: dayOfNumber(shop.firstDay), to: dayOfNumber(shop.firstDay + shop.days) };
}

function compile(spec: ShopSpec, firstDay: DayNumber, days: number, clock: ZoneClock): ShopHours {
  requireInteger(days, 1, MAX_DAYS, 'days');
  requireInteger(spec.crew.count, 0, MAX_COUNT, 'crew.count');
  const workingDays = new WorkingDays(spec.calendar);
  const from = clock.startOf(firstDay);
  const to = clock.startOf(firstDay + days);

  const openIntervals = (week: readonly (readonly MinuteWindow[])[], station?: string): Interval[] => {
    const intervals: Interval[] = [];
    const open = (day: DayNumber, { fromMin, toMin }: MinuteWindow): void => {
      intervals.push({
        from: clock.at(day, fromMin),
        to: toMin > 1440 ? clock.at(day + 1, toMin - 1440) : clock.at(day, toMin),
      });
    };
    // the night shift of the day before reaches in
    for (let day = firstDay - 1; day < firstDay + days; day++) {
      if (workingDays.isClosed(day)) continue;
      for (const window of week[weekdayOf(day)]!) open(day, window);
    }
    for (const shift of workingDays.shifts) {
      if (shift.day < firstDay - 1 || shift.day >= firstDay + days) continue;
      if (station === undefined || shift.stations === undefined || shift.stations.includes(station))
        open(shift.day, shift);
    }
    return intersectIntervals(mergeIntervals(intervals), [{ from, to }]);
  };

  const shopIntervals = openIntervals(workingDays.week);
  const crewIntervals = spec.crew.hours
    ? openIntervals(minuteWeek(spec.crew.hours, 'crew.hours'))
    : shopIntervals;
  const sharedHours = hoursPool();

  const stations = new Map<string, Station>();
  const units: Unit[] = [];
  for (const station of spec.stations) {
    const place = `station '${station.id}'`;
    if (stations.has(station.id)) throw new PlanInputError(`${place} is listed twice; ids must differ`);
    requireInteger(station.count, 1, MAX_COUNT, `${place}.count`);
    const week = station.hours ? minuteWeek(station.hours, `${place}.hours`) : workingDays.week;
    const stationIntervals = openIntervals(week, station.id);
    const firstUnit = units.length;
    for (let unit = 0; unit < station.count; unit++) {
      const intervals = subtractIntervals(stationIntervals, outagesOf(station, unit, place));
      units.push({
        station: station.id,
        unit,
        hours: sharedHours(intervals),
        crewedHours: sharedHours(intersectIntervals(intervals, crewIntervals)),
      });
    }
    const own = units.slice(firstUnit);
    stations.set(station.id, {
      id: station.id,
      count: station.count,
      firstUnit,
      sameHours: own.every((unit) => unit.hours === own[0]!.hours),
    });
  }
  return {
    spec,
    firstDay,
    days,
    from,
    to,
    clock,
    workingDays,
    hours: new OpenHours(shopIntervals),
    crewHours: new OpenHours(crewIntervals),
    stations,
    units,
    crewParts: spec.crew.count * CREW_PARTS,
    away: awayOf(spec.crew),
  };
}

/** Gives equal hours the same object, which also makes what is cached by that object shared. */
function hoursPool(): (intervals: readonly Interval[]) => OpenHours {
  const pool = new Map<string, OpenHours>();
  return (intervals) => {
    const key = intervals.map(({ from, to }) => `${from}-${to}`).join();
    let hours = pool.get(key);
    if (!hours) {
      hours = new OpenHours(intervals);
      pool.set(key, hours);
    }
    return hours;
  };
}

function outagesOf(station: StationSpec, unit: number, place: string): Interval[] {
  const outages = (station.closures ?? []).filter((closure, i) => {
    requireOutage(closure, `${place}.closures[${i}]`);
    if (closure.unit !== undefined)
      requireInteger(closure.unit, 0, station.count - 1, `${place}.closures[${i}].unit`);
    return closure.unit === undefined || closure.unit === unit;
  });
  return mergeIntervals(outages);
}

function awayOf(crew: CrewSpec): (Outage & { parts: number })[] {
  return (crew.away ?? []).map((away, i) => {
    requireOutage(away, `crew.away[${i}]`);
    requireInteger(away.count, 0, MAX_COUNT, `crew.away[${i}].count`);
    return { from: away.from, to: away.to, parts: away.count * CREW_PARTS };
  });
}

function requireOutage({ from, to }: Outage, place: string): void {
  if (!Number.isInteger(from) || !Number.isInteger(to) || to < from) {
    throw new PlanInputError(
      `${place} runs from ${from} to ${to}; both must be whole epoch seconds, the end not before the start`,
    );
  }
}
