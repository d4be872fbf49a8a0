/** An ISO 8601 calendar day in the shop's time zone, such as `2026-03-08`. */
export type Day = string;

/** A time on the shop's clock, `HH:MM` from `00:00` to `24:00` (`24:00` only as an end). */
export type ClockTime = string;

/** An instant: whole seconds since 1970-01-01T00:00:00Z, leap seconds not counted. */
export type EpochS = number;

/** Open from one clock time to another. `to` at or before `from` means the next day: 22:00 to 02:00 is a night shift. */
export type OpenWindow = {
  readonly from: ClockTime;
  readonly to: ClockTime;
};

/** Windows per weekday; breaks are what lies between them. A window belongs to the day it starts on. */
export type WeekHours = {
  readonly mon: readonly OpenWindow[];
  readonly tue: readonly OpenWindow[];
  readonly wed: readonly OpenWindow[];
  readonly thu: readonly OpenWindow[];
  readonly fri: readonly OpenWindow[];
  readonly sat: readonly OpenWindow[];
  readonly sun: readonly OpenWindow[];
};

/** Whole days, first and last included, on which no window of the week opens. */
export type Closure = {
  readonly from: Day;
  readonly to: Day;
  readonly name: string;
  /** `holiday` also stops carriers; `own` (the default) closes the shop alone. */
  readonly kind?: 'holiday' | 'own' | undefined;
};

/** A window beside the week's; it opens even on a closed day, since the owner asked for it. */
export type ExtraShift = {
  readonly day: Day;
  readonly from: ClockTime;
  readonly to: ClockTime;
  /** station ids that work it; absent means all of them. The crew always does. */
  readonly stations?: readonly string[] | undefined;
};

/** When the shop works. */
export type WorkingCalendar = {
  /** IANA name, such as `America/Chicago`. */
  readonly timeZone: string;
  readonly week: WeekHours;
  readonly closures: readonly Closure[];
  readonly extraShifts: readonly ExtraShift[];
  /** orders from this clock time on count as the next working day's; null: no cut-off. */
  readonly cutoff: ClockTime | null;
};

/** A stretch of time in which something is out of use: [from, to). */
export type Outage = {
  readonly from: EpochS;
  readonly to: EpochS;
};

/** Equipment of one kind. */
export type StationSpec = {
  readonly id: string;
  /** how many there are, 1 to 1000. */
  readonly count: number;
  /** its own week; absent: the shop's. Closures and extra shifts of the shop apply either way. */
  readonly hours?: WeekHours | undefined;
  /** maintenance; `unit` (from 0) names one of them, absent: all. */
  readonly closures?: readonly (Outage & { readonly unit?: number | undefined })[] | undefined;
};

/** The people, shared by all stations. */
export type CrewSpec = {
  /** how many work at once, 0 to 1000. */
  readonly count: number;
  readonly hours?: WeekHours | undefined;
  /** how many of them are away, and when. */
  readonly away?: readonly (Outage & { readonly count: number })[] | undefined;
};

/** All the plan needs to know of a shop. */
export type ShopSpec = {
  readonly calendar: WorkingCalendar;
  readonly stations: readonly StationSpec[];
  readonly crew: CrewSpec;
};

/** Work on a station: a set-up, then equal batches one after another on one unit. */
export type WorkStep = {
  readonly kind: 'work';
  /** what the ticket calls it. */
  readonly key: string;
  readonly station: string;
  /** once per booking, s. It may run before the input is there, but not before the step before it has begun. */
  readonly setUpS: number;
  /** 0 to 100000. */
  readonly batches: number;
  /** per batch, s; need not be whole. */
  readonly batchS: number;
  /** pieces in a batch; with it on both sides of a hand-over the need of each batch is counted in pieces, else in shares of the whole. */
  readonly batchPieces?: number | undefined;
  /** people needed during set-up, 0 to 100; a share of one person is a fraction. */
  readonly setUpCrewShare: number;
  /** people needed while the batches run. */
  readonly crewShare: number;
  /** `on` (default): the next step may take batches as they get ready; `whole`: only when all are. */
  readonly flow?: 'on' | 'whole' | undefined;
  /** like work: directly after a booking of the same key on the same unit the set-up takes only `sharedSetUpS`. */
  readonly like?: { readonly key: string; readonly sharedSetUpS: number } | undefined;
  /** earliest instant at which its first batch may start, such as the day the blanks arrive. */
  readonly notBefore?: EpochS | undefined;
};

/** Drying or cooling: every batch is ready `waitS` after it left the step before, day or night, without a station. */
export type WaitStep = {
  readonly kind: 'wait';
  readonly key: string;
  readonly waitS: number;
};

export type Step = WorkStep | WaitStep;

/** What a chain waits for: a step of another chain of the job. */
export type ChainRef = {
  /** index into `Job.chains`. */
  readonly chain: number;
  /** index of the step; absent: the chain's last. */
  readonly step?: number | undefined;
  /** `whole` (default): when all of it is done; `on`: batch by batch, as between steps of a chain. */
  readonly flow?: 'on' | 'whole' | undefined;
};

/** Steps in order. */
export type Chain = {
  readonly steps: readonly Step[];
  /** the first step waits for these. */
  readonly after?: readonly ChainRef[] | undefined;
};

/** What has to be made for one order: chains, independent of each other but for their `after`. */
export type Job = {
  readonly id: string;
  readonly chains: readonly Chain[];
};

/**
 * One step's claim on one unit of a station. The work lies in the open hours of the unit (and of the crew, where
 * people are needed) between `start` and `end`, and is never interrupted by anything but closed hours.
 */
export type Booking = {
  readonly job: string;
  /** index into `Job.chains`. */
  readonly chain: number;
  /** index into `Chain.steps`. */
  readonly step: number;
  /** the step's key. */
  readonly key: string;
  /** `all`: set-up and batches; `set-up`: a set-up left over from a withdrawn booking that a like one relies on. */
  readonly part: 'all' | 'set-up';
  readonly station: string;
  /** from 0. */
  readonly unit: number;
  /** the unit is kept free from here to `start` so that like work stays next to like; mostly equal to `start`. */
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
  /** people needed; 0 where the step has no set-up, or no run. Where both are 0 the hours of the crew do not matter. */
  readonly setUpCrewShare: number;
  readonly crewShare: number;
  readonly likeKey: string | null;
  /** the set-up was shortened because the booking before it on the unit has the same `likeKey`. */
  readonly joined: boolean;
  /** what the floor has said of it. Only what is `booked` is ever moved. */
  readonly state: 'booked' | 'started' | 'finished';
};

/** A promise given: the day, and what lies between the end of production and that day. */
export type GivenPromise = {
  readonly day: Day;
  /** packing, in open seconds of the shop. */
  readonly packingS: number;
  readonly rule: DeliveryRule;
};

/** How an order leaves the shop. */
export type DeliveryRule = {
  /** `pick-up`: working days of the shop count. `carrier`: Monday to Friday without holidays. */
  readonly kind: 'pick-up' | 'carrier';
  /** working days after the day it is packed until it can be collected or arrives, 0 to 400. */
  readonly workingDays: number;
  /** packed after this clock time it leaves, or is there to collect, on the next working day; null: any time that day. */
  readonly handOverBy: ClockTime | null;
};

/** An order in the plan. Its id is its job's. */
export type PlannedOrder = {
  readonly job: Job;
  readonly bookings: readonly Booking[];
  /** nothing of it is placed earlier; only a set-up that `withdraw` had to mend may begin before. */
  readonly notBefore: EpochS;
  readonly promised: GivenPromise;
};

/** An order whose bookings changed. */
export type MovedOrder = {
  readonly order: string;
  readonly before: readonly Booking[];
  readonly after: readonly Booking[];
  /** the last step is done; null: part of it found no place. */
  readonly endsAt: EpochS | null;
};

/** Why a job cannot be placed. */
export type PlanReasonCode =
  | 'no-station' // station, step: the shop has no such station
  | 'no-hours' // station, step: it has no open hour within the horizon
  | 'crew-too-small' // step, share, crew
  | 'plan-full' // horizonDays, station, step: no room before the horizon ends
  | 'ends-too-late' // endsAt, by: epoch seconds
  | 'slack-too-small'; // order, endsAt, keepBy: an order in the way that could not be kept

/** A coded ground for a refusal, of the same form as every other reason. */
export type PlanReason = {
  readonly code: PlanReasonCode;
  readonly params: Readonly<Record<string, number | string>>;
};

/** A step as it was placed; instants. For a wait `station` is null and `runStart` is when its first batch enters. */
export type PlacedStep = {
  readonly chain: number;
  readonly step: number;
  readonly key: string;
  readonly station: string | null;
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
  /** true: no placing of this job among the given bookings ends earlier; false: earliest by the dispatch rule only. */
  readonly earliest: boolean;
};

export type Refusal = {
  readonly kind: 'refused';
  readonly job: string;
  readonly reasons: readonly PlanReason[];
  /** true: no placing at all exists; false: none by the dispatch rule (see `Insertion.earliest`). */
  readonly certain: boolean;
};

/** Thrown when an input is not what its type promises; the message names value, place and allowed range. */
export class PlanInputError extends RangeError {
  override name = 'PlanInputError';
}
