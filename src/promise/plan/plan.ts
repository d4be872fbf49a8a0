import type { ShopHours } from '../calendar/shop-hours.ts';
import { forEachCrewLoad, unitIndexOf } from './booked-work.ts';
import type { Booking } from './booking.ts';
import { CrewOverlay } from './crew-overlay.ts';
import { CrewProfile } from './crew-profile.ts';
import { UnitSchedule } from './unit-schedule.ts';

/** What is booked, indexed for inserting. Immutable: every change gives a new plan that shares most of the old. */
export type Plan = {
  readonly shop: ShopHours;
  /** in the order of `ShopHours.units`. */
  readonly schedules: readonly UnitSchedule[];
  readonly crew: CrewProfile;
  /** crew taken by steps that are placed but not yet booked. */
  readonly overlay?: CrewOverlay;
};

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
    const unit = unitIndexOf(shop, booking);
    byUnit[unit]!.push(booking);
    if (booking.end <= shop.from) continue;
    forEachCrewLoad(shop.units[unit]!, booking, (start, end, load) => {
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
    schedules: byUnit.map((list) => (list.length === 0 ? UnitSchedule.empty : UnitSchedule.of(list))),
    crew: CrewProfile.of(from, to, parts),
  };
}

/** All bookings, unit by unit, in order of time. */
export function* bookingsOf(plan: Plan): Generator<Booking> {
  for (const schedule of plan.schedules) yield* schedule.bookings();
}

/** The plan with more bookings, which must fit in it, as those of an insertion into it do. */
export function commit(plan: Plan, bookings: readonly Booking[]): Plan {
  return bookings.reduce(withBooking, plan);
}

/** The plan with one more booking. */
export function withBooking(plan: Plan, booking: Booking): Plan {
  const { shop, schedules } = withSchedule(plan, booking);
  return { shop, schedules, crew: withCrewLoad(plan, unitIndexOf(shop, booking), booking, 1) };
}

/**
 * The plan without some bookings, found by job, chain, step, part and start. Bookings that share the set-up of a
 * removed one are not repaired: see `withdraw`.
 */
export function withoutBookings(plan: Plan, bookings: readonly Booking[]): Plan {
  return bookings.reduce((rest, booking) => {
    const unit = unitIndexOf(rest.shop, booking);
    const schedule = rest.schedules[unit]!.without(booking);
    if (schedule === rest.schedules[unit]) return rest;
    return {
      shop: rest.shop,
      schedules: rest.schedules.with(unit, schedule),
      crew: withCrewLoad(rest, unit, booking, -1),
    };
  }, plan);
}

/** The plan with a booking on its unit, but without the crew it takes. */
export function withSchedule(plan: Plan, booking: Booking): Plan {
  const unit = unitIndexOf(plan.shop, booking);
  return { ...plan, schedules: plan.schedules.with(unit, plan.schedules[unit]!.with(booking)) };
}

/** The plan with the crew a booking takes, but without the booking on its unit. */
export function withOverlay(plan: Plan, booking: Booking): Plan {
  const { shop, schedules, crew } = plan;
  const overlay = plan.overlay?.copy() ?? new CrewOverlay();
  forEachCrewLoad(shop.units[unitIndexOf(shop, booking)]!, booking, (from, to, parts) => {
    overlay.add(from, to, parts);
  });
  return { shop, schedules, crew, overlay };
}

/** The crew profile with a booking's load added (sign 1) or removed (sign -1). */
function withCrewLoad(plan: Plan, unit: number, booking: Booking, sign: 1 | -1): CrewProfile {
  let { crew } = plan;
  forEachCrewLoad(plan.shop.units[unit]!, booking, (from, to, parts) => {
    crew = crew.with(from, to, sign * parts);
  });
  return crew;
}
