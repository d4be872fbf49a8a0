import { PlanInputError, requireInteger } from '../input-checks.ts';
import { clockMinutes, type DayNumber, dayNumber, dayOfNumber } from './day.ts';
import type { ShopHours } from './shop-hours.ts';
import type { ClockTime, Day, EpochS } from './time.ts';
import { firstDayFrom, nthDayAfter } from './working-days.ts';

/** How an order leaves the shop. */
export type DeliveryRule = {
  /** `pick-up`: working days of the shop count. `carrier`: Monday to Friday without holidays. */
  readonly kind: 'pick-up' | 'carrier';
  /** working days after the day it leaves until it can be collected or arrives, 0 to 400. */
  readonly workingDays: number;
  /** an order packed after this clock time leaves, or can be collected, on the next working day; null: any time that day. */
  readonly handOverBy: ClockTime | null;
};

/** A promise made to a customer: the day, and what happens between the end of production and that day. */
export type GivenPromise = {
  readonly day: Day;
  /** packing, in open seconds of the shop. */
  readonly packingS: number;
  readonly rule: DeliveryRule;
};

/** A day that can be promised, and how it was worked out. */
export type PromisedDay = {
  /** it can be collected, or arrives. */
  readonly day: Day;
  /** the day on which the shop has it packed. */
  readonly packedDay: Day;
  readonly packedAt: EpochS;
  /** the working day on which it leaves the shop, or can first be collected. */
  readonly leavesDay: Day;
};

const MAX_WORKING_DAYS = 400;
const MAX_PACKING_S = 366 * 86_400;

/** The release time of an order received at `now`: `now`, or, after the cut-off, the start of the next working day. */
export function releaseTime(
  shop: ShopHours,
  now: EpochS,
): { readonly notBefore: EpochS; readonly afterCutoff: boolean } {
  const { workingDays, clock } = shop;
  const { cutoffMin } = workingDays;
  const today = clock.dayAt(now);
  if (cutoffMin === undefined || !workingDays.isWorking(today) || now < clock.at(today, cutoffMin)) {
    return { notBefore: now, afterCutoff: false };
  }
  const next = firstDayFrom(today + 1, (day) => workingDays.isWorking(day));
  return { notBefore: next === undefined ? now : clock.startOf(next), afterCutoff: true };
}

/**
 * The day an order is promised for. Packing takes open hours of the shop; then the order is handed over on a working
 * day, and `rule.workingDays` more pass.
 *
 * @param endsAt end of the last step
 * @param packingS packing, in open seconds of the shop
 * @returns undefined when the shop's hours are not known that far: extend the shop
 * @throws PlanInputError naming the value and what is allowed
 */
export function promiseDay(
  shop: ShopHours,
  endsAt: EpochS,
  packingS: number,
  rule: DeliveryRule,
): PromisedDay | undefined {
  const days = promisedDays(shop, endsAt, packingS, rule);
  return (
    days && {
      day: dayOfNumber(days.day),
      packedDay: dayOfNumber(days.packedDay),
      packedAt: days.packedAt,
      leavesDay: dayOfNumber(days.leavesDay),
    }
  );
}

function promisedDays(
  shop: ShopHours,
  endsAt: EpochS,
  packingS: number,
  rule: DeliveryRule,
): { day: DayNumber; packedDay: DayNumber; packedAt: EpochS; leavesDay: DayNumber } | undefined {
  requireRule(rule, packingS);
  const packedOpenS = shop.hours.openSecondsAt(endsAt) + Math.ceil(packingS);
  // without packing the order is ready when its last step is, even if that is in closed hours
  const packedAt = packingS > 0 ? shop.hours.endAt(packedOpenS) : endsAt;
  if (!(packedAt < shop.to)) return undefined;
  const packedDay = shop.clock.dayAt(packedAt);
  const { workingDays } = shop;
  const isDeliveryDay = (day: DayNumber): boolean => workingDays.isDeliveryDay(rule.kind, day);
  const isTooLateToday =
    rule.handOverBy !== null &&
    packedAt > shop.clock.at(packedDay, clockMinutes(rule.handOverBy, 'handOverBy', true));
  const leavesDay = firstDayFrom(
    isTooLateToday ? packedDay + 1 : packedDay,
    (day) => workingDays.isWorking(day) && isDeliveryDay(day),
  );
  if (leavesDay === undefined) return undefined;
  const day = nthDayAfter(leavesDay, rule.workingDays, isDeliveryDay);
  return day === undefined ? undefined : { day, packedDay, packedAt, leavesDay };
}

/** The latest end of production that still keeps a promise; undefined when no end within the shop's days does. */
export function latestEnd(shop: ShopHours, promised: GivenPromise): EpochS | undefined {
  const lastDay = dayNumber(promised.day, 'promised day');
  const keepsPromise = (endsAt: EpochS): boolean => {
    const days = promisedDays(shop, endsAt, promised.packingS, promised.rule);
    return days !== undefined && days.day <= lastDay;
  };
  if (!keepsPromise(shop.from)) return undefined;
  let low = shop.from;
  let high = shop.to;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (keepsPromise(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function requireRule(rule: DeliveryRule, packingS: number): void {
  requireInteger(rule.workingDays, 0, MAX_WORKING_DAYS, 'workingDays');
  if (!(packingS >= 0 && packingS <= MAX_PACKING_S)) {
    throw new PlanInputError(`packingS is ${packingS}; it must be from 0 to ${MAX_PACKING_S} seconds`);
  }
}
