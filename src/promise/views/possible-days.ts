import { dayNumber, dayOfNumber } from '../calendar/day.ts';
import { type PromisedDay, promiseDay } from '../calendar/promise-day.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import { quickPromise } from '../insert/insert.ts';
import type { Plan } from '../plan/plan.ts';
import { type Day, type DeliveryRule, type EpochS, type Job, PlanInputError } from '../types.ts';

/** A day a customer may ask for. */
export type PossibleDay = {
  readonly day: Day;
  readonly possible: boolean;
  /** null when possible; `no-delivery`: nothing is handed out or delivered that day. */
  readonly why: 'too-early' | 'no-delivery' | null;
};

/** Days an order can be asked for, and the earliest of them, wherever it lies. */
export type PossibleDays = {
  /** null: not within the shop's days. */
  readonly earliest: PromisedDay | null;
  readonly days: readonly PossibleDay[];
};

/**
 * The days on which an order could be ready. One insertion answers for all of them: what can be ready on a day can be
 * handed out on any later one.
 *
 * @param from first day asked about
 * @param count how many days, 1 to 1000
 */
export function possibleDays(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  packingS: number,
  rule: DeliveryRule,
  from: Day,
  count: number,
): PossibleDays {
  if (!Number.isInteger(count) || count < 1 || count > 1000) {
    throw new PlanInputError(`count is ${count}; it must be a whole number from 1 to 1000`);
  }
  const first = dayNumber(from, 'from');
  const endsAt = quickPromise(plan, job, notBefore);
  const earliest = Number.isFinite(endsAt) ? promiseDay(plan.shop, endsAt, packingS, rule) : null;
  return {
    earliest,
    days: Array.from({ length: count }, (_, i) => {
      const day = dayOfNumber(first + i);
      const why = whyNot(plan.shop, day, rule, earliest);
      return { day, possible: why === null, why };
    }),
  };
}

function whyNot(
  shop: ShopHours,
  day: Day,
  rule: DeliveryRule,
  earliest: PromisedDay | null,
): PossibleDay['why'] {
  if (earliest === null || day < earliest.day) return 'too-early';
  const number = dayNumber(day);
  const served =
    rule.kind === 'carrier' ? shop.workingDays.isCarrierDay(number) : shop.workingDays.isWorking(number);
  return served ? null : 'no-delivery';
}
