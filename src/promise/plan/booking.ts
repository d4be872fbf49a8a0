import type { EpochS } from '../calendar/time.ts';

/**
 * One step's reservation of one unit of a station. The work is done in the open hours of the unit (and of the crew,
 * where people are needed) between `start` and `end`, and is interrupted only by closed hours.
 */
export type Booking = {
  readonly job: string;
  /** index into `Job.chains`. */
  readonly chain: number;
  /** index into `Chain.steps`. */
  readonly step: number;
  /** the step's key. */
  readonly key: string;
  /** `all`: set-up and batches; `set-up`: a set-up left over from a withdrawn booking, which a like booking relies on. */
  readonly part: 'all' | 'set-up';
  readonly station: string;
  /** from 0. */
  readonly unit: number;
  /** the unit is kept free from here to `start` so that like work stays next to like work; usually equal to `start`. */
  readonly heldFrom: EpochS;
  /** the set-up begins. */
  readonly start: EpochS;
  /** the first batch begins. */
  readonly runStart: EpochS;
  readonly end: EpochS;
  /** set-up and run in open seconds. */
  readonly setUpS: number;
  readonly runS: number;
  /** the set-up it would need if it were not joined. */
  readonly fullSetUpS: number;
  /** people needed; 0 where the step has no set-up, or no run. If both are 0, crew hours do not restrict it. */
  readonly setUpCrewShare: number;
  readonly crewShare: number;
  readonly likeKey: string | null;
  /** the set-up was shortened because the booking before it on the unit has the same `likeKey`. */
  readonly joined: boolean;
  /** what the floor has reported. Only bookings that are still `booked` are ever moved. */
  readonly state: 'booked' | 'started' | 'finished';
};

/** Whether two bookings are for the same part of the same step, at the same start. */
export function isSameBooking(a: Booking, b: Booking): boolean {
  return (
    a.job === b.job && a.chain === b.chain && a.step === b.step && a.part === b.part && a.start === b.start
  );
}

/** Whether two lists hold the same bookings, in the same places and states, in any order. */
export function haveSameBookings(a: readonly Booking[], b: readonly Booking[]): boolean {
  return (
    a.length === b.length &&
    a.every((one) =>
      b.some(
        (other) =>
          isSameBooking(one, other) &&
          one.unit === other.unit &&
          one.end === other.end &&
          one.state === other.state,
      ),
    )
  );
}
