import {
  type CrewSpec,
  type Day,
  type EpochS,
  type Outage,
  PlanInputError,
  type ShopSpec,
  type StationSpec,
} from '../types.ts';
import { type DayNumber, dayNumber, dayOfNumber, weekdayOf } from './day.ts';
import { commonSpans, mergeSpans, OpenHours, type Span, spansWithout } from './open-time.ts';
import { type MinuteWindow, minuteWeek, WorkingDays } from './working-days.ts';
import { ZoneClock } from './zone-clock.ts';

/**
 * Parts of one person in which crew shares are counted. Divisible by 1 to 16 and by 20, so that shares such as 1/3
 * or 0.35 add up exactly; others are rounded down by less than two millionths of a person.
 */
export const CREW_PARTS = 720_720;

/** One of a station's count. */
export type Unit = {
  readonly station: string;
  readonly unit: number;
  /** hours of the equipment. */
  readonly hours: OpenHours;
  /** hours in which equipment and crew are both there. */
  readonly crewedHours: OpenHours;
};

/** A station as compiled. */
export type Station = {
  readonly id: string;
  readonly count: number;
  /** index of its first unit in `Shop.units`. */
  readonly firstUnit: number;
  /** whether all units keep the same hours. */
  readonly alike: boolean;
};

/** A shop's hours worked out to epoch seconds for a run of days. */
export type ShopHours = {
  readonly spec: ShopSpec;
  readonly firstDay: DayNumber;
  readonly days: number;
  /** all hours lie in [from, to). */
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

const MOST_DAYS = 3_660;
const MOST_COUNT = 1_000;

/**
 * Works out the hours of a shop for `days` days from `firstDay` on. Costly (time zone arithmetic per day and window):
 * keep the result as long as the spec stands, and compile anew, or `extendShop`, when more days are needed.
 *
 * @param days 1 to 3660
 * @throws PlanInputError naming the value, its place and what is allowed
 */
export function compileShopHours(spec: ShopSpec, firstDay: Day, days: number): ShopHours {
  return compile(spec, dayNumber(firstDay, 'firstDay'), days, new ZoneClock(spec.calendar.timeZone));
}

/** The same shop with a longer run of days; instants and bookings of the shorter one stay right. */
export function extendShopHours(shop: ShopHours, days: number): ShopHours {
  return days <= shop.days ? shop : compile(shop.spec, shop.firstDay, days, shop.clock);
}

/** The same shop with a unit (or, without `unit`, all units) of a station out of use for a while. */
export function withOutage(
  shop: ShopHours,
  station: string,
  outage: Outage & { readonly unit?: number | undefined },
): ShopHours {
  const stations = shop.spec.stations.map((spec) =>
    spec.id === station ? { ...spec, closures: [...(spec.closures ?? []), outage] } : spec,
  );
  if (!shop.stations.has(station)) {
    throw new PlanInputError(
      `station is '${station}'; it must be one of ${[...shop.stations.keys()].join(', ')}`,
    );
  }
  return compile({ ...shop.spec, stations }, shop.firstDay, shop.days, shop.clock);
}

function compile(spec: ShopSpec, firstDay: DayNumber, days: number, clock: ZoneClock): ShopHours {
  requireWhole(days, 1, MOST_DAYS, 'days');
  requireWhole(spec.crew.count, 0, MOST_COUNT, 'crew.count');
  const workingDays = new WorkingDays(spec.calendar);
  const from = clock.startOf(firstDay);
  const to = clock.startOf(firstDay + days);
  const horizon = { from, to };

  const spansOf = (week: readonly (readonly MinuteWindow[])[], station: string | null): Span[] => {
    const spans: Span[] = [];
    const open = (day: DayNumber, window: MinuteWindow): void => {
      const over = window.toMin > 1440;
      spans.push({
        from: clock.at(day, window.fromMin),
        to: over ? clock.at(day + 1, window.toMin - 1440) : clock.at(day, window.toMin),
      });
    };
    // the night shift of the day before reaches in
    for (let day = firstDay - 1; day < firstDay + days; day++) {
      if (workingDays.isClosed(day)) continue;
      for (const window of week[weekdayOf(day)]!) open(day, window);
    }
    for (const shift of workingDays.shifts) {
      if (shift.day < firstDay - 1 || shift.day >= firstDay + days) continue;
      if (station === null || shift.stations === null || shift.stations.includes(station))
        open(shift.day, shift);
    }
    return commonSpans(mergeSpans(spans), [horizon]);
  };

  const shopSpans = spansOf(workingDays.week, null);
  const crewSpans = spec.crew.hours
    ? spansOf(minuteWeek(spec.crew.hours, 'crew.hours'), null)
    : spansOf(workingDays.week, null);
  const shopHours = new OpenHours(shopSpans);
  // equal hours share one object, and with it what is remembered about them
  const known = new Map<string, OpenHours>();
  const hoursOf = (spans: Span[]): OpenHours => {
    const text = spans.map((span) => `${span.from}-${span.to}`).join();
    let hours = known.get(text);
    if (!hours) {
      hours = new OpenHours(spans);
      known.set(text, hours);
    }
    return hours;
  };

  const stations = new Map<string, Station>();
  const units: Unit[] = [];
  for (const station of spec.stations) {
    const place = `station '${station.id}'`;
    if (stations.has(station.id)) throw new PlanInputError(`${place} is listed twice; ids must differ`);
    requireWhole(station.count, 1, MOST_COUNT, `${place}.count`);
    const open = spansOf(
      station.hours ? minuteWeek(station.hours, `${place}.hours`) : workingDays.week,
      station.id,
    );
    const firstUnit = units.length;
    for (let unit = 0; unit < station.count; unit++) {
      const spans = spansWithout(open, outagesOf(station, unit, place));
      const hours = hoursOf(spans);
      units.push({ station: station.id, unit, hours, crewedHours: hoursOf(commonSpans(spans, crewSpans)) });
    }
    stations.set(station.id, {
      id: station.id,
      count: station.count,
      firstUnit,
      alike: units.slice(firstUnit).every((unit) => unit.hours === units[firstUnit]!.hours),
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
    hours: shopHours,
    crewHours: new OpenHours(crewSpans),
    stations,
    units,
    crewParts: spec.crew.count * CREW_PARTS,
    away: awayOf(spec.crew),
  };
}

function outagesOf(station: StationSpec, unit: number, place: string): Span[] {
  const outages = (station.closures ?? []).filter((closure, i) => {
    requireSpan(closure, `${place}.closures[${i}]`);
    if (closure.unit !== undefined)
      requireWhole(closure.unit, 0, station.count - 1, `${place}.closures[${i}].unit`);
    return closure.unit === undefined || closure.unit === unit;
  });
  return mergeSpans(outages);
}

function awayOf(crew: CrewSpec): (Outage & { parts: number })[] {
  return (crew.away ?? []).map((away, i) => {
    requireSpan(away, `crew.away[${i}]`);
    requireWhole(away.count, 0, MOST_COUNT, `crew.away[${i}].count`);
    return { from: away.from, to: away.to, parts: away.count * CREW_PARTS };
  });
}

function requireSpan(span: Outage, place: string): void {
  if (!Number.isInteger(span.from) || !Number.isInteger(span.to) || span.to < span.from) {
    throw new PlanInputError(
      `${place} runs from ${span.from} to ${span.to}; both must be whole epoch seconds, the end not before the start`,
    );
  }
}

function requireWhole(value: number, least: number, most: number, place: string): void {
  if (!Number.isInteger(value) || value < least || value > most) {
    throw new PlanInputError(`${place} is ${value}; it must be a whole number from ${least} to ${most}`);
  }
}

/** The days a shop was compiled for, as ISO days: the first, and the first one after them. */
export function shopDays(shop: ShopHours): { from: Day; to: Day } {
  return { from: dayOfNumber(shop.firstDay), to: dayOfNumber(shop.firstDay + shop.days) };
}
