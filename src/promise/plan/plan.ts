import type { OpenHours, Span } from '../calendar/open-time.ts';
import { CREW_PARTS, type ShopHours, type Unit } from '../calendar/shop-hours.ts';
import { type Booking, PlanInputError } from '../types.ts';
import { CrewOverlay } from './crew-overlay.ts';
import { CrewProfile } from './crew-profile.ts';
import { UnitSchedule } from './unit-schedule.ts';

/** What is booked, indexed for inserting. Immutable: every change gives a new plan that shares most of the old. */
export type Plan = {
  readonly shop: ShopHours;
  /** in the order of `Shop.units`. */
  readonly tracks: readonly UnitSchedule[];
  readonly crew: CrewProfile;
  /** what the steps of the job that is being placed take besides. */
  readonly ahead?: CrewOverlay;
};

/** Crew taken by a share, in CREW_PARTS. */
export function crewParts(share: number): number {
  return Math.floor(share * CREW_PARTS + 1e-6);
}

/** The hours in which a booking's work is done: those of its unit, within those of the crew when it needs people. */
export function hoursOfBooking(unit: Unit, booking: Booking): OpenHours {
  const needsCrew = crewParts(booking.setUpCrewShare) > 0 || crewParts(booking.crewShare) > 0;
  return needsCrew ? unit.crewedHours : unit.hours;
}

/**
 * The unit a booking is on.
 *
 * @throws PlanInputError when the shop has no such station or unit
 */
export function unitOf(shop: ShopHours, booking: Booking): number {
  const station = shop.stations.get(booking.station);
  if (!station || !(booking.unit >= 0 && booking.unit < station.count)) {
    const known = [...shop.stations.values()].map((each) => `${each.id} (${each.count})`).join(', ');
    throw new PlanInputError(
      `booking of job '${booking.job}' is on unit ${booking.unit} of station '${booking.station}'; the shop has ${known || 'none'}`,
    );
  }
  return station.firstUnit + booking.unit;
}

/** A stretch of a booking in which work goes on. */
export type WorkPiece = Span & {
  readonly part: 'set-up' | 'run';
  /** people needed. */
  readonly crewShare: number;
};

/** The stretches of a booking that lie in open hours, ascending. */
export function workPieces(shop: ShopHours, booking: Booking): WorkPiece[] {
  const hours = hoursOfBooking(shop.units[unitOf(shop, booking)]!, booking);
  const pieces: WorkPiece[] = [];
  for (const span of hours.between(booking.start, Math.min(booking.runStart, booking.end))) {
    pieces.push({ ...span, part: 'set-up', crewShare: booking.setUpCrewShare });
  }
  for (const span of hours.between(booking.runStart, booking.end)) {
    pieces.push({ ...span, part: 'run', crewShare: booking.crewShare });
  }
  return pieces;
}

/**
 * Indexes bookings. Time grows with n log n, memory with n.
 *
 * @param shop compiled for at least the days in which something is to be inserted
 * @throws PlanInputError when a booking is on a station or unit the shop does not have
 */
export function buildPlan(shop: ShopHours, bookings: readonly Booking[]): Plan {
  const byUnit: Booking[][] = shop.units.map(() => []);
  const from: number[] = [];
  const to: number[] = [];
  const parts: number[] = [];
  for (const booking of bookings) {
    const unit = unitOf(shop, booking);
    byUnit[unit]!.push(booking);
    if (booking.end <= shop.from) continue;
    eachLoad(shop.units[unit]!, booking, (start, end, load) => {
      from.push(start);
      to.push(end);
      parts.push(load);
    });
  }
  for (const away of shop.away) {
    from.push(away.from);
    to.push(away.to);
    parts.push(away.parts);
  }
  return {
    shop,
    tracks: byUnit.map((list) => (list.length === 0 ? UnitSchedule.empty : UnitSchedule.of(list))),
    crew: CrewProfile.of(from, to, parts),
  };
}

/** The plan with more bookings, which must fit in it, as those of an insertion into it do. */
export function commit(plan: Plan, bookings: readonly Booking[]): Plan {
  return bookings.reduce(withBooking, plan);
}

/** The plan with one more booking. */
export function withBooking(plan: Plan, booking: Booking): Plan {
  const { shop, tracks } = withSchedule(plan, booking);
  return { shop, tracks, crew: withLoad(plan, unitOf(shop, booking), booking, 1) };
}

/** The plan with a booking on its unit, but none of the crew taken for it. */
export function withSchedule(plan: Plan, booking: Booking): Plan {
  const unit = unitOf(plan.shop, booking);
  return { ...plan, tracks: plan.tracks.with(unit, plan.tracks[unit]!.with(booking)) };
}

/** The plan without some bookings, found by job, chain, step and start. Likeness is not looked after: see `withdraw`. */
export function withoutBookings(plan: Plan, bookings: readonly Booking[]): Plan {
  return bookings.reduce((left, booking) => {
    const unit = unitOf(left.shop, booking);
    const track = left.tracks[unit]!.without(booking);
    if (track === left.tracks[unit]) return left;
    return {
      shop: left.shop,
      tracks: left.tracks.with(unit, track),
      crew: withLoad(left, unit, booking, -1),
    };
  }, plan);
}

/** The crew profile with a booking's load added (sign 1) or taken away (sign -1). */
function withLoad(plan: Plan, unit: number, booking: Booking, sign: 1 | -1): CrewProfile {
  let crew = plan.crew;
  eachLoad(plan.shop.units[unit]!, booking, (from, to, parts) => {
    crew = crew.with(from, to, sign * parts);
  });
  return crew;
}

/** The plan with the crew taken that a step of a job needs which is placed but not booked in it. */
export function withOverlay(plan: Plan, booking: Booking): Plan {
  const ahead = plan.ahead?.copy() ?? new CrewOverlay();
  eachLoad(plan.shop.units[unitOf(plan.shop, booking)]!, booking, (from, to, parts) => {
    ahead.add(from, to, parts);
  });
  return { shop: plan.shop, tracks: plan.tracks, crew: plan.crew, ahead };
}

/** All bookings, unit by unit, in order of time. */
export function* bookingsOf(plan: Plan): Generator<Booking> {
  for (const track of plan.tracks) yield* track.bookings();
}

function eachLoad(
  unit: Unit,
  booking: Booking,
  take: (from: number, to: number, parts: number) => void,
): void {
  const setUp = crewParts(booking.setUpCrewShare);
  const run = crewParts(booking.crewShare);
  if (setUp === 0 && run === 0) return;
  const hours = hoursOfBooking(unit, booking);
  if (setUp > 0) {
    for (const span of hours.between(booking.start, Math.min(booking.runStart, booking.end))) {
      take(span.from, span.to, setUp);
    }
  }
  if (run > 0) {
    for (const span of hours.between(booking.runStart, booking.end)) take(span.from, span.to, run);
  }
}
