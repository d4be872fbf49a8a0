import { latestEnd, promiseDay } from '../calendar/promise-day.ts';
import { type ShopHours, withOutage } from '../calendar/shop-hours.ts';
import { insertAround } from '../insert/insert.ts';
import { isDownstream, type OrderState, stateOfOrder } from '../insert/order-state.ts';
import { type Conflict, conflictOf } from '../plan/booking-conflict.ts';
import { buildPlan, commit, type Plan, withBooking } from '../plan/plan.ts';
import { isSame } from '../plan/unit-schedule.ts';
import { standingAlone, withdraw } from '../plan/withdraw.ts';
import {
  type Booking,
  type Day,
  type EpochS,
  type MovedOrder,
  PlanInputError,
  type PlannedOrder,
} from '../types.ts';
import { type FloorEvent, withRemake, withReport, withWork } from './floor-events.ts';
import { makeRoom } from './make-room.ts';

/** Why an order is late. */
export type LateCause =
  /** equipment is out of use. */
  | { readonly kind: 'down'; readonly station: string; readonly unit: number | null }
  /** pieces have to be made again. */
  | { readonly kind: 'spoiled'; readonly step: string; readonly pieces: number }
  /** a step, of this order or another, was begun late or takes longer than booked. */
  | { readonly kind: 'late-step'; readonly job: string; readonly step: string; readonly station: string }
  /** a step was not begun when it should have been. */
  | { readonly kind: 'not-started'; readonly step: string; readonly station: string }
  /** hours of a station or of the crew were changed. */
  | { readonly kind: 'closed'; readonly station: string }
  /** too few people are left. */
  | { readonly kind: 'crew-short'; readonly station: string };

/** An order whose promised day does not hold. */
export type LateOrder = {
  readonly order: string;
  readonly promised: Day;
  /** the day it would be now; null: beyond the shop's days. */
  readonly now: Day | null;
  /** null: beyond the horizon. */
  readonly endsAt: EpochS | null;
  /** null: it was late before these events. */
  readonly cause: LateCause | null;
};

/** How to read the floor. */
export type FloorOptions = {
  readonly now: EpochS;
  /**
   * Steps that should have begun by `now` and of which nothing was reported: `assume-on-time` (default) takes them as
   * begun, for floors that only report trouble; `assume-not-started` moves them.
   */
  readonly unreported?: 'assume-on-time' | 'assume-not-started' | undefined;
  /** how many other orders may be moved within their slack to save one, 0 to 1000; absent: 20. */
  readonly mostMoved?: number | undefined;
};

/** The plan after the floor has spoken. */
export type FloorOutcome = {
  /** with the outages reported; keep its `spec`. */
  readonly shop: ShopHours;
  readonly plan: Plan;
  /** all orders with their jobs (spoiled pieces add a chain) and bookings as they are now, in the order given. */
  readonly orders: readonly PlannedOrder[];
  readonly moved: readonly MovedOrder[];
  /** orders that do not keep their day, told so and never silently given another. */
  readonly late: readonly LateOrder[];
};

const MOST_MOVED = 20;

/**
 * Brings the plan in line with what happened on the floor. Bookings that still can stand do not move. Those that
 * cannot (their station is down, something still occupies it, their input comes later, the crew is short) are placed
 * again with what depends on them, the order that must be ready first first, at their earliest; where that breaks a
 * promise, other orders are moved within their slack if that saves it. What cannot be saved is reported late with the
 * new day and the cause, and placed anew whenever that ends it earlier.
 *
 * @param orders all orders with work left in the plan, bookings as last known
 * @throws PlanInputError when an event is about something that does not exist
 */
export function applyEvents(
  shop: ShopHours,
  orders: readonly PlannedOrder[],
  events: readonly FloorEvent[],
  options: FloorOptions,
): FloorOutcome {
  return new FloorRun(shop, orders, events, options).outcome();
}

/** What is known of an order while the plan is brought in line. */
type Case = {
  order: PlannedOrder;
  readonly before: PlannedOrder;
  readonly keepBy: EpochS;
  cause: LateCause | null;
  /** work is missing from the plan and has to be placed. */
  open: boolean;
  /** no room within the horizon. */
  stuck: boolean;
};

class FloorRun {
  readonly #shop: ShopHours;
  readonly #options: FloorOptions;
  readonly #cases: Map<string, Case>;
  readonly #outages: readonly Extract<FloorEvent, { kind: 'down' }>[];
  /** bookings that end later than they were planned to, by why. */
  readonly #deviations: { booking: Booking; cause: LateCause }[] = [];
  /** bookings that could not stay, by why. */
  readonly #dropped: { booking: Booking; cause: LateCause }[] = [];
  readonly #states = new WeakMap<PlannedOrder, OrderState>();
  #plan: Plan;

  constructor(
    shop: ShopHours,
    orders: readonly PlannedOrder[],
    events: readonly FloorEvent[],
    options: FloorOptions,
  ) {
    this.#options = options;
    this.#outages = events.filter((event) => event.kind === 'down');
    this.#shop = this.#outages.reduce((now, event) => withOutage(now, event.station, event), shop);
    this.#cases = new Map(
      orders.map((order) => [
        order.job.id,
        {
          order,
          before: order,
          keepBy: latestEnd(shop, order.promised) ?? Number.NEGATIVE_INFINITY,
          cause: null,
          open: false,
          stuck: false,
        },
      ]),
    );
    this.#plan = buildPlan(this.#shop, []);
    for (const event of events) this.#take(event);
    this.#layFixed();
    this.#layBooked();
    this.#reopenUnplaced();
    this.#placeOpen();
    this.#hurryLate();
  }

  outcome(): FloorOutcome {
    const cases = [...this.#cases.values()];
    const moved: MovedOrder[] = [];
    const late: LateOrder[] = [];
    for (const each of cases) {
      const { order, before } = each;
      const { endsAt } = this.#stateOf(order);
      if (!sameBookings(before.bookings, order.bookings)) {
        moved.push({
          order: order.job.id,
          before: before.bookings,
          after: order.bookings,
          endsAt: each.stuck ? null : endsAt,
        });
      }
      const { packingS, rule, day } = order.promised;
      const then = each.stuck ? null : promiseDay(this.#shop, endsAt, packingS, rule);
      if (then !== null && then.day <= day) continue;
      late.push({
        order: order.job.id,
        promised: day,
        now: then?.day ?? null,
        endsAt: each.stuck ? null : endsAt,
        cause: each.cause ?? this.#deviationOf(each),
      });
    }
    return { shop: this.#shop, plan: this.#plan, orders: cases.map((each) => each.order), moved, late };
  }

  #stateOf(order: PlannedOrder): OrderState {
    let state = this.#states.get(order);
    if (!state) {
      state = stateOfOrder(this.#plan, order, order.bookings);
      this.#states.set(order, state);
    }
    return state;
  }

  #take(event: FloorEvent): void {
    if (event.kind === 'down') return;
    const each = this.#cases.get(event.job);
    if (!each) {
      throw new PlanInputError(
        `event '${event.kind}' is about job '${event.job}', which is not among the orders`,
      );
    }
    if (event.kind === 'spoiled') {
      each.order = { ...each.order, job: withRemake(each.order.job, event) };
      each.cause = {
        kind: 'spoiled',
        step: each.order.job.chains[event.chain]!.steps[event.step]!.key,
        pieces: event.pieces,
      };
      each.open = true;
    } else each.order = withReport(this.#shop, each.order, event);
  }

  /** What the floor has begun or done stands, whatever the plan said. */
  #layFixed(): void {
    const fixed: Booking[] = [];
    for (const each of this.#cases.values()) {
      const bookings = each.order.bookings.map((booking) => {
        if (booking.state === 'booked') return booking;
        const real = booking.state === 'started' ? this.#running(booking) : booking;
        fixed.push(real);
        this.#compare(each, real);
        return real;
      });
      each.order = { ...each.order, bookings };
    }
    this.#plan = buildPlan(this.#shop, fixed);
  }

  /** A begun booking with the hours as they are now; it is not over before `now`. */
  #running(booking: Booking): Booking {
    const laid = withWork(this.#shop, booking, booking.start);
    return laid.end >= this.#options.now ? laid : { ...laid, end: this.#options.now };
  }

  #compare(each: Case, real: Booking): void {
    const planned = each.before.bookings.find(
      (was) => was.chain === real.chain && was.step === real.step && was.part === real.part,
    );
    if (planned && real.end > planned.end) {
      this.#deviations.push({ booking: real, cause: this.#downAt(real) ?? lateStep(real) });
    }
  }

  /** Lays booked work back in order of time; what does not fit any more is left out, with what depends on it. */
  #layBooked(): void {
    const waiting = [...this.#cases.values()]
      .flatMap((each) => each.order.bookings.map((booking) => ({ each, booking })))
      .filter(({ booking }) => booking.state === 'booked')
      .sort((a, b) => a.booking.heldFrom - b.booking.heldFrom);
    const out = new Set<Booking>();
    for (const { each, booking: planned } of waiting) {
      if (out.has(planned)) continue;
      const booking = this.#asItStands(planned);
      if (booking !== planned) {
        each.order = withInstead(each.order, planned, booking);
        this.#compare(each, booking);
      }
      const cause = this.#whyNot(each, booking);
      if (cause === null) {
        this.#plan = withBooking(this.#plan, booking);
        continue;
      }
      this.#dropped.push({ booking, cause });
      each.cause ??= cause;
      each.open = true;
      const lost = each.order.bookings.filter(
        (other) =>
          other === booking || (other.state === 'booked' && isDownstream(each.order, booking, other)),
      );
      for (const other of lost) out.add(other);
      this.#drop(each, lost);
    }
  }

  /**
   * A booking that is taken as begun goes on where its station was down, and one whose like work before it is gone
   * begins its set-up earlier if it can.
   */
  #asItStands(booking: Booking): Booking {
    const { now, unreported } = this.#options;
    const misfit = conflictOf(this.#plan, booking);
    if (misfit?.kind === 'closed' && booking.start < now && unreported !== 'assume-not-started') {
      return withWork(this.#shop, booking, booking.start);
    }
    return (misfit?.kind === 'not-joined' && standingAlone(this.#plan, booking, now)) || booking;
  }

  /** Takes bookings out of an order, and out of the plan where they were laid already. */
  #drop(each: Case, lost: readonly Booking[]): void {
    const { plan, changed } = withdraw(this.#plan, lost, this.#options.now);
    this.#plan = plan;
    each.order = {
      ...each.order,
      bookings: each.order.bookings.filter((booking) => !lost.includes(booking)),
    };
    for (const change of changed) {
      const other = this.#cases.get(change.after.job)!;
      other.order = withInstead(other.order, change.before, change.after);
    }
  }

  #whyNot(each: Case, booking: Booking): LateCause | null {
    const { now, unreported } = this.#options;
    if (booking.start < now && unreported === 'assume-not-started') {
      return { kind: 'not-started', step: booking.key, station: booking.station };
    }
    const misfit = conflictOf(this.#plan, booking);
    if (misfit) return this.#causeOf(misfit, booking);
    return this.#stateOf(each.order).tooEarly.includes(booking)
      ? (each.cause ?? this.#deviationOf(each) ?? lateStep(booking))
      : null;
  }

  #causeOf(misfit: Conflict, booking: Booking): LateCause {
    if (misfit.kind === 'occupied') {
      return this.#deviations.find((each) => isSame(each.booking, misfit.by))?.cause ?? lateStep(misfit.by);
    }
    if (misfit.kind === 'crew-short') {
      const late = this.#deviations.find(
        (each) => each.booking.start < booking.end && each.booking.end > booking.start,
      );
      return late?.cause ?? { kind: 'crew-short', station: booking.station };
    }
    if (misfit.kind === 'not-joined') {
      const like = this.#dropped.find(({ booking: other }) => other.likeKey === booking.likeKey);
      return like?.cause ?? lateStep(booking);
    }
    return this.#downAt(booking) ?? { kind: 'closed', station: booking.station };
  }

  /** The outage that a booking runs into. */
  #downAt(booking: Booking): LateCause | null {
    const outage = this.#outages.find(
      (each) =>
        each.station === booking.station &&
        (each.unit === undefined || each.unit === booking.unit) &&
        each.from < booking.end &&
        each.to > booking.start,
    );
    return outage ? { kind: 'down', station: outage.station, unit: outage.unit ?? null } : null;
  }

  /** Why work of an order that stands is later than planned. */
  #deviationOf(each: Case): LateCause | null {
    return this.#deviations.find(({ booking }) => booking.job === each.order.job.id)?.cause ?? null;
  }

  /** Work that found no place before the horizon may find one now. */
  #reopenUnplaced(): void {
    for (const each of this.#cases.values())
      if (this.#stateOf(each.order).endsAt === Number.POSITIVE_INFINITY) each.open = true;
  }

  /** Orders that are late anyway take what has come free: their bookings move only where that ends them earlier. */
  #hurryLate(): void {
    const late = [...this.#cases.values()]
      .filter((each) => !each.stuck && this.#stateOf(each.order).endsAt > each.keepBy)
      .sort((a, b) => a.keepBy - b.keepBy);
    for (const each of late) {
      const { order } = each;
      const movable = order.bookings.filter(
        (booking) => booking.state === 'booked' && booking.start > this.#options.now,
      );
      if (movable.length === 0) continue;
      const kept = order.bookings.filter((booking) => !movable.includes(booking));
      const { plan, changed } = withdraw(this.#plan, movable, this.#options.now);
      // a like step of another order that leaned on this one would have to change: not for an order that is late
      if (changed.length > 0) continue;
      const again = insertAround(plan, order.job, Math.max(order.notBefore, this.#options.now), kept);
      if (again.kind !== 'placed') continue;
      const sooner = { ...order, bookings: [...kept, ...again.bookings] };
      if (this.#stateOf(sooner).endsAt >= this.#stateOf(order).endsAt) continue;
      this.#plan = commit(plan, again.bookings);
      each.order = sooner;
    }
  }

  /** Places what is missing, the order that must be ready first first. */
  #placeOpen(): void {
    const open = [...this.#cases.values()].filter((each) => each.open).sort((a, b) => a.keepBy - b.keepBy);
    for (const each of open) this.#place(each);
  }

  #place(each: Case): void {
    const { now, mostMoved } = this.#options;
    const { order } = each;
    const notBefore = Math.max(order.notBefore, now);
    const simply = insertAround(this.#plan, order.job, notBefore, order.bookings);
    each.open = false;
    if (simply.kind === 'placed' && simply.endsAt <= each.keepBy) {
      this.#book(each, commit(this.#plan, simply.bookings), simply.bookings);
      return;
    }
    const others = [...this.#cases.values()].filter((other) => other !== each);
    // what is not wholly placed is not moved about, too
    const unsettled = others.filter((other) => other.open || other.stuck);
    const room = makeRoom(
      this.#plan,
      {
        orders: others.map((other) => other.order),
        immovable: new Set(unsettled.map((other) => other.order.job.id)),
        job: order.job,
        fixed: order.bookings,
        notBefore,
        by: each.keepBy,
        frozenUntil: now,
        mostMoved: mostMoved ?? MOST_MOVED,
      },
      (other) => this.#cases.get(other.job.id)!.keepBy,
    );
    if (room.kind === 'room') {
      each.order = { ...each.order, bookings: room.fixed };
      this.#book(each, room.plan, room.insertion.bookings);
      for (const moved of room.moved) {
        const other = this.#cases.get(moved.order)!;
        other.order = { ...other.order, bookings: moved.after };
      }
    } else if (simply.kind === 'placed') {
      this.#book(each, commit(this.#plan, simply.bookings), simply.bookings);
    } else each.stuck = true;
  }

  #book(each: Case, plan: Plan, bookings: readonly Booking[]): void {
    this.#plan = plan;
    each.order = { ...each.order, bookings: [...each.order.bookings, ...bookings] };
  }
}

function lateStep(booking: Booking): LateCause {
  return { kind: 'late-step', job: booking.job, step: booking.key, station: booking.station };
}

function withInstead(order: PlannedOrder, before: Booking | null, after: Booking): PlannedOrder {
  return { ...order, bookings: [...order.bookings.filter((booking) => booking !== before), after] };
}

function sameBookings(a: readonly Booking[], b: readonly Booking[]): boolean {
  return (
    a.length === b.length &&
    a.every((one) =>
      b.some(
        (other) =>
          isSame(one, other) && one.unit === other.unit && one.end === other.end && one.state === other.state,
      ),
    )
  );
}
