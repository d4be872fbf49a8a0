export { type DayNumber, dayNumber, dayOfNumber, isoWeekOf, weekdayOf } from './calendar/day.ts';
export { countsFrom, latestEnd, type PromisedDay, promiseDay } from './calendar/promise-day.ts';
export {
  compileShopHours,
  extendShopHours,
  type ShopHours,
  shopDays,
  withOutage,
} from './calendar/shop-hours.ts';
export { clockChanges, ZoneClock } from './calendar/zone-clock.ts';
export { insert, insertAround, quickPromise } from './insert/insert.ts';
export { bookingsOf, buildPlan, commit, type Plan, type WorkPiece, workPieces } from './plan/plan.ts';
export { type ChangedBooking, type Withdrawal, withdraw } from './plan/withdraw.ts';
export {
  applyEvents,
  type FloorOptions,
  type FloorOutcome,
  type LateCause,
  type LateOrder,
} from './replan/apply-events.ts';
export type { FloorEvent } from './replan/floor-events.ts';
export type { Room } from './replan/make-room.ts';
export { type RushOptions, replanForRush } from './replan/rush.ts';
export * from './types.ts';
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
  type ViewedWork,
} from './views/plan-summary.ts';
export { type PossibleDay, type PossibleDays, possibleDays } from './views/possible-days.ts';
