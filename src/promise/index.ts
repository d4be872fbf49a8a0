export { compileShop, extendShop, type Shop, shopDays, withOutage } from './compile-shop.ts';
export { type DayNumber, dayNumber, dayOfNumber, isoWeekOf, weekdayOf } from './day.ts';
export { insert, insertAround, quickPromise } from './insert.ts';
export {
  bookingsOf,
  buildPlan,
  commit,
  type Plan,
  type WorkPiece,
  withoutBookings,
  workPieces,
} from './plan.ts';
export { countsFrom, latestEnd, type PromisedDay, promiseDay } from './promise-day.ts';
export * from './types.ts';
export { clockChanges, ZoneClock } from './zone-clock.ts';
