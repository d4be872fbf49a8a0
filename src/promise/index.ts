export { type DayNumber, dayNumber, dayOfNumber, isoWeekOf } from './calendar/day.ts';
export {
  type DeliveryRule,
  type GivenPromise,
  latestEnd,
  type PromisedDay,
  promiseDay,
  releaseTime,
} from './calendar/promise-day.ts';
export {
  compileShopHours,
  extendShopHours,
  type ShopHours,
  shopDays,
  withOutage,
} from './calendar/shop-hours.ts';
export type * from './calendar/shop-spec.ts';
export type * from './calendar/time.ts';
export { clockChanges, ZoneClock } from './calendar/zone-clock.ts';
export { PlanInputError } from './input-checks.ts';
export { completionTime, insert } from './insert/insert.ts';
export type * from './insert/insertion.ts';
export { type WorkPiece, workPieces } from './plan/booked-work.ts';
export type { Booking } from './plan/booking.ts';
export type * from './plan/job.ts';
export { bookingsOf, buildPlan, commit, type Plan } from './plan/plan.ts';
export { type ChangedBooking, type Withdrawal, withdraw } from './plan/withdraw.ts';
export { applyEvents, type FloorOutcome, type LateOrder } from './replan/apply-events.ts';
export type { FloorEvent } from './replan/floor-events.ts';
export type { FloorOptions } from './replan/floor-run.ts';
export type { LateCause } from './replan/late-cause.ts';
export type { Room } from './replan/move-orders.ts';
export { type MovedOrder, type PlannedOrder, withChanges } from './replan/planned-order.ts';
export { type RushOptions, replanForRush } from './replan/rush.ts';
export { type CalendarOptions, planAsICalendar } from './views/icalendar.ts';
export {
  type CrewMoment,
  type DrawnDay,
  type DrawnWork,
  drawnDays,
  type UnitDay,
} from './views/plan-chart.ts';
export {
  type PlanSummary,
  planByStationAndDay,
  type StationDay,
  type SummaryWork,
} from './views/plan-summary.ts';
export { type PossibleDay, type PossibleDays, possibleDays } from './views/possible-days.ts';
