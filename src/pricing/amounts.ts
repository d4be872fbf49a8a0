import { TextCache } from '../text-cache.ts';

/**
 * Whole numbers in place of decimals for the many products of a bill: quantities in billionths, rates and amounts in
 * trillionths (12 digits, all a catalog may write). Sums are exact; a product is rounded once, half up, at the 12th digit.
 */

const QUANTITY_DIGITS = 9;
const AMOUNT_DIGITS = 12;
/** One unit of a currency, or a share of 1, in trillionths. */
export const ONE = 10n ** BigInt(AMOUNT_DIGITS);
const QUANTITY_ONE = 10n ** BigInt(QUANTITY_DIGITS);
const QUANTITY_HALF = QUANTITY_ONE / 2n;

/** Every bill reads the same rates of the catalog again. */
const parsed = new TextCache<bigint>(20_000);

/** A decimal string with at most 12 digits after the point, in trillionths. */
export function amountOf(text: string): bigint {
  return parsed.get(text, parse);
}

function parse(text: string): bigint {
  const [whole = '', fraction = ''] = text.split('.');
  return BigInt(whole + fraction.padEnd(AMOUNT_DIGITS, '0'));
}

/** A measured quantity, 0 or more, in billionths. */
export function quantityOf(quantity: number): bigint {
  const scaled = quantity * 1e9;
  return scaled <= Number.MAX_SAFE_INTEGER
    ? BigInt(Math.round(scaled))
    : BigInt(Math.round(quantity)) * QUANTITY_ONE;
}

/** Quantity times rate. */
export function product(quantity: bigint, rate: bigint): bigint {
  return (quantity * rate + QUANTITY_HALF) / QUANTITY_ONE;
}

/** The sum of some amounts; 0 of none. */
export function sumOf(amounts: readonly bigint[]): bigint {
  let sum = 0n;
  for (const amount of amounts) sum += amount;
  return sum;
}

/** The least of some amounts; 0 of none. */
export function leastOf(amounts: readonly bigint[]): bigint {
  let least = amounts[0] ?? 0n;
  for (const amount of amounts) if (amount < least) least = amount;
  return least;
}

/** `amount / by`, lowered to a whole number; `by` over 0. */
export function floorOf(amount: bigint, by: bigint): bigint {
  const whole = amount / by;
  return amount < 0n && whole * by !== amount ? whole - 1n : whole;
}

/** `amount / by`, raised to a whole number; `by` over 0. */
export function ceilOf(amount: bigint, by: bigint): bigint {
  return -floorOf(-amount, by);
}

/** `amount / by` rounded by the one rule of money.ts: half away from zero; `by` over 0. */
export function roundOf(amount: bigint, by: bigint): bigint {
  const size = ((amount < 0n ? -amount : amount) * 2n + by) / (2n * by);
  return amount < 0n ? -size : size;
}

/** Shares an amount out by weights (0 or more, not all 0); what rounding leaves goes to the last with a weight. */
export function shareOut(amount: bigint, weights: readonly number[], into: bigint[]): void {
  let whole = 0;
  let last = -1;
  for (let index = 0; index < weights.length; index++) {
    if (weights[index]! <= 0) continue;
    whole += weights[index]!;
    last = index;
  }
  if (last < 0) {
    into[0] = (into[0] ?? 0n) + amount;
    return;
  }
  let left = amount;
  for (let index = 0; index < last; index++) {
    if (weights[index]! <= 0) continue;
    const part = (amount * BigInt(Math.floor((weights[index]! / whole) * 2 ** 50))) >> 50n;
    into[index]! += part;
    left -= part;
  }
  into[last]! += left;
}

/** Writes an amount, trailing zeros left out. */
export function amountText(amount: bigint): string {
  return text(amount, AMOUNT_DIGITS);
}

/** Writes a quantity, trailing zeros left out. */
export function quantityText(quantity: bigint): string {
  return text(quantity, QUANTITY_DIGITS);
}

function text(value: bigint, digits: number): string {
  const plain = value.toString().padStart(digits + 1, '0');
  const fraction = plain.slice(-digits).replace(/0+$/, '');
  const whole = plain.slice(0, -digits);
  return fraction === '' ? whole : `${whole}.${fraction}`;
}
