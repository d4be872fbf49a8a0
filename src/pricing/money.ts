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
