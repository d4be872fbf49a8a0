export { compileShop, extendShop, type Shop, shopDays, withOutage } from './compile-shop.ts';
export { type DayNumber, dayNumber, dayOfNumber, isoWeekOf, weekdayOf } from './day.ts';
export {
  applyEvents,
  type FloorOptions,
  type FloorOutcome,
  type LateCause,
  type LateOrder,
} from './floor.ts';
export type { FloorEvent } from './floor-events.ts';
export { type CalendarOptions, planAsICalendar } from './icalendar.ts';
export { insert, insertAround, quickPromise } from './insert.ts';
export { bookingsOf, buildPlan, commit, type Plan, type WorkPiece, workPieces } from './plan.ts';
export { type CrewMoment, type DrawnDay, type DrawnWork, drawnDays, type UnitDay } from './plan-days.ts';
export { type PlanView, planByStationAndDay, type StationDay, type ViewedWork } from './plan-view.ts';
export { type PossibleDay, type PossibleDays, possibleDays } from './possible-days.ts';
export { countsFrom, latestEnd, type PromisedDay, promiseDay } from './promise-day.ts';
export type { Room } from './room.ts';
export { type RushOptions, replanForRush } from './rush.ts';
export * from './types.ts';
export { type ChangedBooking, type Withdrawal, withdraw } from './withdraw.ts';
export { clockChanges, ZoneClock } from './zone-clock.ts';
