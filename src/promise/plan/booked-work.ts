import type { Interval } from '../calendar/intervals.ts';
import type { OpenHours } from '../calendar/open-hours.ts';
import { CREW_PARTS, type ShopHours, type Unit } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { PlanInputError } from '../input-checks.ts';
import type { Booking } from './booking.ts';

/** An interval of a booking in which work goes on. */
export type WorkPiece = Interval & {
  readonly part: 'set-up' | 'run';
  /** people needed. */
  readonly crewShare: number;
};

/** A crew share in CREW_PARTS. */
export function crewParts(share: number): number {
  return Math.floor(share * CREW_PARTS + 1e-6);
}

/** The most crew a booking takes at any moment, in CREW_PARTS. */
export function maxCrewParts(booking: Booking): number {
  return Math.max(crewParts(booking.setUpCrewShare), crewParts(booking.crewShare));
}

/**
 * The index in `ShopHours.units` of the unit a booking is on.
 *
 * @throws PlanInputError when the shop has no such station or unit
 */
export function unitIndexOf(shop: ShopHours, booking: Booking): number {
  const station = shop.stations.get(booking.station);
  if (!station || !(booking.unit >= 0 && booking.unit < station.count)) {
    const known = [...shop.stations.values()].map(({ id, count }) => `${id} (${count})`).join(', ');
    throw new PlanInputError(
      `booking of job '${booking.job}' is on unit ${booking.unit} of station '${booking.station}'; the shop has ${known || 'none'}`,
    );
  }
  return station.firstUnit + booking.unit;
}

/** The hours in which a booking's work is done: those of its unit, and also of the crew when it needs people. */
export function hoursOfBooking(shop: ShopHours, booking: Booking): OpenHours {
  return hoursOnUnit(shop.units[unitIndexOf(shop, booking)]!, booking);
}

function hoursOnUnit(unit: Unit, booking: Booking): OpenHours {
  return maxCrewParts(booking) > 0 ? unit.crewedHours : unit.hours;
}

/** The intervals in which a booking is worked on, ascending. */
export function workPieces(shop: ShopHours, booking: Booking): WorkPiece[] {
  const hours = hoursOfBooking(shop, booking);
  const { start, runStart, end, setUpCrewShare, crewShare } = booking;
  return [
    ...hours
      .between(start, Math.min(runStart, end))
      .map((interval): WorkPiece => ({ ...interval, part: 'set-up', crewShare: setUpCrewShare })),
    ...hours.between(runStart, end).map((interval): WorkPiece => ({ ...interval, part: 'run', crewShare })),
  ];
}

/** Calls `visit` with every interval in which a booking takes some of the crew, and how much, in CREW_PARTS. */
export function forEachCrewLoad(
  unit: Unit,
  booking: Booking,
  visit: (from: EpochS, to: EpochS, parts: number) => void,
): void {
  const setUpParts = crewParts(booking.setUpCrewShare);
  const runParts = crewParts(booking.crewShare);
  if (setUpParts === 0 && runParts === 0) return;
  const hours = hoursOnUnit(unit, booking);
  if (setUpParts > 0) {
    for (const { from, to } of hours.between(booking.start, Math.min(booking.runStart, booking.end))) {
      visit(from, to, setUpParts);
    }
  }
  if (runParts > 0) {
    for (const { from, to } of hours.between(booking.runStart, booking.end)) visit(from, to, runParts);
  }
}
