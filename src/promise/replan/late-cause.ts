import type { EpochS } from '../calendar/time.ts';
import { type Booking, isSameBooking } from '../plan/booking.ts';
import type { Conflict } from '../plan/booking-conflict.ts';
import type { FloorEvent } from './floor-events.ts';

/** Why an order is late. */
export type LateCause =
  /** equipment is out of use. */
  | { readonly kind: 'down'; readonly station: string; readonly unit: number | null }
  /** pieces have to be made again. */
  | { readonly kind: 'spoiled'; readonly step: string; readonly pieces: number }
  /** a step, of this order or another, was started late or takes longer than booked. */
  | { readonly kind: 'late-step'; readonly job: string; readonly step: string; readonly station: string }
  /** a step was not started when it should have been. */
  | { readonly kind: 'not-started'; readonly step: string; readonly station: string }
  /** hours of a station or of the crew were changed. */
  | { readonly kind: 'closed'; readonly station: string }
  /** too few people are left. */
  | { readonly kind: 'crew-short'; readonly station: string };

type CausedBy = { readonly booking: Booking; readonly cause: LateCause };

/** Traces why bookings cannot stay back to what happened on the floor. */
export class CauseTracker {
  readonly #outages: readonly Extract<FloorEvent, { kind: 'down' }>[];
  /** bookings that end later than planned. */
  readonly #delayed: CausedBy[] = [];
  /** bookings that could not stay. */
  readonly #dropped: CausedBy[] = [];

  constructor(outages: readonly Extract<FloorEvent, { kind: 'down' }>[]) {
    this.#outages = outages;
  }

  /** Records a booking that ends later than planned. */
  addDelayed(booking: Booking): void {
    this.#delayed.push({ booking, cause: this.#outageAt(booking) ?? lateStep(booking) });
  }

  /** Records a booking that could not stay. */
  addDropped(booking: Booking, cause: LateCause): void {
    this.#dropped.push({ booking, cause });
  }

  /** Why the remaining bookings of a job are later than planned; undefined when they are not. */
  delayOf(job: string): LateCause | undefined {
    return this.#delayed.find(({ booking }) => booking.job === job)?.cause;
  }

  /** What led to a conflict. */
  causeOf(conflict: Conflict, booking: Booking): LateCause {
    switch (conflict.kind) {
      case 'occupied': {
        const delayed = this.#delayed.find((each) => isSameBooking(each.booking, conflict.by));
        return delayed?.cause ?? lateStep(conflict.by);
      }
      case 'crew-short': {
        const delayed = this.#delayed.find((each) => overlaps(each.booking, booking));
        return delayed?.cause ?? { kind: 'crew-short', station: booking.station };
      }
      case 'not-joined': {
        const like = this.#dropped.find((each) => each.booking.likeKey === booking.likeKey);
        return like?.cause ?? lateStep(booking);
      }
      case 'closed':
        return this.#outageAt(booking) ?? { kind: 'closed', station: booking.station };
    }
  }

  /** The outage that a booking runs into. */
  #outageAt(booking: Booking): LateCause | undefined {
    const outage = this.#outages.find(
      (each) =>
        each.station === booking.station &&
        (each.unit === undefined || each.unit === booking.unit) &&
        overlaps({ start: each.from, end: each.to }, booking),
    );
    return outage && { kind: 'down', station: outage.station, unit: outage.unit ?? null };
  }
}

export function lateStep(booking: Booking): LateCause {
  return { kind: 'late-step', job: booking.job, step: booking.key, station: booking.station };
}

type Timed = { readonly start: EpochS; readonly end: EpochS };

function overlaps(a: Timed, b: Timed): boolean {
  return a.start < b.end && a.end > b.start;
}
