import { type DayNumber, dayNumber, dayOfNumber } from '../calendar/day.ts';
import type { Interval } from '../calendar/intervals.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { Day, EpochS } from '../calendar/time.ts';
import { PlanInputError } from '../input-checks.ts';

const MAX_DAYS = 400;

/**
 * Days in a row.
 *
 * @param count 1 to 400; only days the shop was compiled for
 * @throws PlanInputError naming what is asked for and what is allowed
 */
export function dayRange(shop: ShopHours, from: Day, count: number): DayNumber[] {
  const first = dayNumber(from, 'from');
  const end = shop.firstDay + shop.days;
  if (
    !Number.isInteger(count) ||
    count < 1 ||
    count > MAX_DAYS ||
    first < shop.firstDay ||
    first + count > end
  ) {
    throw new PlanInputError(
      `${count} days from '${from}' are asked for; it must be 1 to 400 days within ${dayOfNumber(shop.firstDay)} to ${dayOfNumber(end - 1)}`,
    );
  }
  return Array.from({ length: count }, (_, i) => first + i);
}

/** An interval cut at the midnights of the shop's clock. */
export function* splitByDay(
  shop: ShopHours,
  { from, to }: Interval,
): Generator<Interval & { readonly day: DayNumber }> {
  for (let start = from, day = shop.clock.dayAt(from); start < to; day++) {
    const end = Math.min(to, shop.clock.startOf(day + 1));
    yield { day, from: start, to: end };
    start = end;
  }
}

/** An instant in ISO 8601, UTC, to the second. */
export function isoInstant(at: EpochS): string {
  return new Date(at * 1000).toISOString().replace('.000Z', 'Z');
}
