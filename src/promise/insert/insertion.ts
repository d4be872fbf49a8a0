import type { EpochS } from '../calendar/time.ts';
import type { Booking } from '../plan/booking.ts';

/** Why a job cannot be placed. The comments list the params. */
export type PlanReasonCode =
  | 'no-station' // station, step: the shop has no such station
  | 'no-hours' // station, step: the station has no open hour within the horizon
  | 'crew-too-small' // station, step, share, crew
  | 'plan-full' // horizonDays, station, step: no room before the horizon ends
  | 'ends-too-late' // endsAt, by: epoch seconds
  | 'slack-too-small'; // order, endsAt, keepBy: an order in the way that could not be moved

/** A coded ground for a refusal, of the same form as every other reason. */
export type PlanReason = {
  readonly code: PlanReasonCode;
  readonly params: Readonly<Record<string, number | string>>;
};

/** A step as it was placed. For a wait `station` is undefined and `runStart` is when its first batch enters. */
export type PlacedStep = {
  readonly chain: number;
  readonly step: number;
  readonly key: string;
  readonly station: string | undefined;
  readonly unit: number;
  /** the first batch could have started here, had the station and the crew been free and open. */
  readonly readyAt: EpochS;
  readonly start: EpochS;
  readonly runStart: EpochS;
  /** all of it is done (for a wait: dry, cool). */
  readonly end: EpochS;
};

/** Where a job would go. Nothing is reserved until it is committed. */
export type Insertion = {
  readonly kind: 'placed';
  readonly job: string;
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
  /** the last step is done. */
  readonly endsAt: EpochS;
  /** true: no placing of this job among the given bookings ends earlier; false: earliest only by the dispatch rule. */
  readonly earliest: boolean;
};

export type Refusal = {
  readonly kind: 'refused';
  readonly job: string;
  readonly reasons: readonly PlanReason[];
  /** true: no placing exists at all; false: none by the dispatch rule (see `Insertion.earliest`). */
  readonly certain: boolean;
};
