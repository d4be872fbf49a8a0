import { Decimal } from 'decimal.js';

/**
 * Decimal arithmetic for money: 80 significant digits, so that sums and products of all that a catalog may hold (12 digits
 * on each side of the point, times counts) are exact and only divisions round.
 *
 * The one rounding rule: an amount is rounded to the minor unit of its currency, half away from zero: 2.345 becomes 2.35,
 * -2.345 becomes -2.35. It is applied where an amount is shown or enters a shown sum, and nowhere in between. Prices that
 * must not fall below a bound (a margin, an ending) are raised to the next allowed price instead; see `PriceSteps.raise`.
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

/** Reads a decimal string. Numbers are not accepted: they may have lost digits already. */
export function money(amount: string): Money {
  return new Money(amount);
}

/** Rounds to `digits` after the point, by the one rule. */
export function roundMoney(amount: Money, digits: number): Money {
  return amount.toDecimalPlaces(digits, Decimal.ROUND_HALF_UP);
}

/** A decimal string with exactly `digits` after the point, rounded by the one rule; zero has no sign. */
export function writeMoney(amount: Money, digits: number): string {
  const text = amount.toFixed(digits, Decimal.ROUND_HALF_UP);
  return text.startsWith('-') && !/[1-9]/.test(text) ? text.slice(1) : text;
}
