import { type Day, type DeliveryRule, type EpochS, type GivenPromise, PlanInputError } from '../types.ts';
import { clockMinutes, type DayNumber, dayNumber, dayOfNumber } from './day.ts';
import type { ShopHours } from './shop-hours.ts';
import { daysLater, firstDay } from './working-days.ts';

/** The day that is promised, and how it came about. */
export type PromisedDay = {
  /** it can be collected, or arrives. */
  readonly day: Day;
  /** the day the shop has it packed. */
  readonly packedDay: Day;
  readonly packedAt: EpochS;
  /** the working day it leaves the shop, or is there to collect at the earliest. */
  readonly leavesDay: Day;
};

/** From when an order received at `now` counts: `now`, or, after the cut-off time, the start of the next working day. */
export function countsFrom(
  shop: ShopHours,
  now: EpochS,
): { readonly notBefore: EpochS; readonly afterCutoff: boolean } {
  const { cutoffMin } = shop.workingDays;
  const today = shop.clock.dayAt(now);
  if (cutoffMin === null || !shop.workingDays.isWorking(today) || now < shop.clock.at(today, cutoffMin)) {
    return { notBefore: now, afterCutoff: false };
  }
  const next = firstDay(today + 1, (day) => shop.workingDays.isWorking(day));
  return { notBefore: next === null ? now : shop.clock.startOf(next), afterCutoff: true };
}

/**
 * The day an order is promised for. Packing takes open hours of the shop; then the order is handed over on a working
 * day, and `workingDays` more pass.
 *
 * @param endsAt the last step is done
 * @param packingS packing, in open seconds of the shop
 * @returns null when the shop's hours run out first: extend the shop
 * @throws PlanInputError naming the value and what is allowed
 */
export function promiseDay(
  shop: ShopHours,
  endsAt: EpochS,
  packingS: number,
  rule: DeliveryRule,
): PromisedDay | null {
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
): { day: DayNumber; packedDay: DayNumber; packedAt: EpochS; leavesDay: DayNumber } | null {
  requireRule(rule, packingS);
  const work = shop.hours.workAt(endsAt) + Math.ceil(packingS);
  // without packing the order is ready when its last step is, even if that is in closed hours
  const packedAt = packingS > 0 ? shop.hours.endAt(work) : endsAt;
  if (!(packedAt < shop.to)) return null;
  const packedDay = shop.clock.dayAt(packedAt);
  const works = (day: DayNumber): boolean => shop.workingDays.isWorking(day);
  const moves =
    rule.kind === 'carrier' ? (day: DayNumber): boolean => shop.workingDays.isCarrierDay(day) : works;
  const late =
    rule.handOverBy !== null &&
    packedAt > shop.clock.at(packedDay, clockMinutes(rule.handOverBy, 'handOverBy', true));
  const leaves = firstDay(
    late ? packedDay + 1 : packedDay,
    (day) => works(day) && (rule.kind === 'pick-up' || moves(day)),
  );
  const day = leaves === null ? null : daysLater(leaves, rule.workingDays, moves);
  if (leaves === null || day === null) return null;
  return { day, packedDay, packedAt, leavesDay: leaves };
}

/** The latest end of production that still keeps a promise; null when none does within the shop's days. */
export function latestEnd(shop: ShopHours, promised: GivenPromise): EpochS | null {
  const lastDay = dayNumber(promised.day, 'promised day');
  const keeps = (endsAt: EpochS): boolean => {
    const then = promisedDays(shop, endsAt, promised.packingS, promised.rule);
    return then !== null && then.day <= lastDay;
  };
  if (!keeps(shop.from)) return null;
  let low = shop.from;
  let high = shop.to;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (keeps(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function requireRule(rule: DeliveryRule, packingS: number): void {
  if (!Number.isInteger(rule.workingDays) || rule.workingDays < 0 || rule.workingDays > 400) {
    throw new PlanInputError(`workingDays is ${rule.workingDays}; it must be a whole number from 0 to 400`);
  }
  if (!(packingS >= 0 && packingS <= 366 * 86_400)) {
    throw new PlanInputError(`packingS is ${packingS}; it must be from 0 to ${366 * 86_400} seconds`);
  }
}
