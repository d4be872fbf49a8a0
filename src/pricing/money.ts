import { Decimal } from 'decimal.js';

/**
 * Decimal arithmetic for money: 80 significant digits, so that sums and products of everything a catalog may hold are
 * exact (12 digits each side of the point, times counts), and only divisions round.
 *
 * The one rounding rule: an amount is rounded to the minor unit of its currency, half up, away from zero at exactly
 * one half: 2.345 becomes 2.35, -2.345 becomes -2.35. It is applied where an amount is shown or enters a shown sum,
 * and nowhere in between. Prices that must not go under a bound (a margin, an ending) are raised to the next price
 * allowed instead; see `raise` in price-steps.ts.
 */
export const Money = Decimal.clone({
  precision: 80,
  rounding: Decimal.ROUND_HALF_UP,
  toExpNeg: -100,
  toExpPos: 100,
  minE: -1000,
  maxE: 1000,
  modulo: Decimal.ROUND_DOWN,
  crypto: false,
});
export type Money = Decimal;

export const ZERO: Money = new Money(0);

/** Reads a decimal string. Numbers are not taken: one may have lost digits already. */
export function money(amount: string): Money {
  return new Money(amount);
}

/** Rounds to `digits` after the point by the one rule. */
export function roundMoney(amount: Money, digits: number): Money {
  return amount.toDecimalPlaces(digits, Decimal.ROUND_HALF_UP);
}

/** Writes with exactly `digits` after the point, rounding by the one rule; zero has no sign. */
export function writeMoney(amount: Money, digits: number): string {
  const text = amount.toFixed(digits, Decimal.ROUND_HALF_UP);
  return text.startsWith('-') && !/[1-9]/.test(text) ? text.slice(1) : text;
}

/**
 * Shares an amount out by weights so that nothing is lost: the parts are whole minor units and add up to `total`. Every
 * part is its exact share rounded down or up; the units left over go to the parts whose shares were cut most, of equals
 * to the earlier. With no weight over 0 the parts are as equal as can be.
 *
 * @param total a whole number of minor units; negative for a discount
 * @param weights one or more, none negative
 * @throws RangeError naming the value, when one of these is not so
 */
export function allocate(total: Money, weights: readonly (Money | number)[], digits: number): Money[] {
  const scale = new Money(10).pow(digits);
  const units = total.times(scale);
  if (!units.isInteger())
    throw new RangeError(`the amount ${total.toFixed()} is not a whole number of units of ${digits} digits`);
  if (weights.length === 0) throw new RangeError('an amount cannot be shared among no parts');
  let shares = weights.map((weight) => new Money(weight));
  for (const share of shares)
    if (share.isNegative() || !share.isFinite())
      throw new RangeError(`the weight ${share.toString()} is not a number from 0 up`);
  let whole = shares.reduce((sum, share) => sum.plus(share), ZERO);
  if (whole.isZero()) {
    shares = shares.map(() => new Money(1));
    whole = new Money(shares.length);
  }
  const sign = units.isNegative() ? -1 : 1;
  const size = units.abs();
  const parts = shares.map((share) => size.times(share).divToInt(whole));
  const cut = shares.map((share, index) => size.times(share).minus(parts[index]!.times(whole)));
  let left = size.minus(parts.reduce((sum, part) => sum.plus(part), ZERO)).toNumber();
  const order = cut.map((_, index) => index).sort((one, other) => cut[other]!.cmp(cut[one]!) || one - other);
  for (const index of order) {
    if (left === 0) break;
    parts[index] = parts[index]!.plus(1);
    left--;
  }
  return parts.map((part) => part.times(sign).div(scale));
}
