import { dayNumber, dayOfNumber } from '../calendar/day.ts';
import { type DeliveryRule, type PromisedDay, promiseDay } from '../calendar/promise-day.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { Day, EpochS } from '../calendar/time.ts';
import { requireInteger } from '../input-checks.ts';
import { completionTime } from '../insert/insert.ts';
import type { Job } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';

/** A day a customer may ask for. */
export type PossibleDay = {
  readonly day: Day;
  readonly possible: boolean;
  /** undefined when possible; `no-delivery`: nothing can be collected or delivered that day. */
  readonly why: 'too-early' | 'no-delivery' | undefined;
};

/** Which days of a range an order can be asked for, and the earliest day of all, in the range or not. */
export type PossibleDays = {
  /** undefined when it is not within the shop's days. */
  readonly earliest: PromisedDay | undefined;
  readonly days: readonly PossibleDay[];
};

/**
 * The days on which an order could be ready. One insertion answers for all of them: what can be ready on one day can
 * also be handed over on any later one.
 *
 * @param count how many days from `from` on, 1 to 1000
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
  requireInteger(count, 1, 1000, 'count');
  const first = dayNumber(from, 'from');
  const endsAt = completionTime(plan, job, notBefore);
  const earliest = Number.isFinite(endsAt) ? promiseDay(plan.shop, endsAt, packingS, rule) : undefined;
  return {
    earliest,
    days: Array.from({ length: count }, (_, i) => {
      const day = dayOfNumber(first + i);
      const why = whyNot(plan.shop, day, rule, earliest);
      return { day, possible: why === undefined, why };
    }),
  };
}

function whyNot(
  shop: ShopHours,
  day: Day,
  rule: DeliveryRule,
  earliest: PromisedDay | undefined,
): PossibleDay['why'] {
  if (earliest === undefined || day < earliest.day) return 'too-early';
  return shop.workingDays.isDeliveryDay(rule.kind, dayNumber(day)) ? undefined : 'no-delivery';
}
