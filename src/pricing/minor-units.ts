import { amountOf, ceilOf, ONE, roundOf } from './amounts.ts';

/**
 * A price in whole minor units of the currency, as every price shown is. Sums and multiples are exact; a fraction is
 * rounded where it enters a shown sum, by the rule of money.ts.
 */
export type Minor = bigint;

/** One minor unit of a currency, in trillionths. */
export function minorOne(digits: number): bigint {
  return ONE / 10n ** BigInt(digits);
}

/** A decimal string with at most 12 digits after the point, rounded to minor units. */
export function minorOf(amount: string, digits: number): Minor {
  return roundOf(amountOf(amount), minorOne(digits));
}

/** A decimal string with exactly `digits` after the point; zero has no sign. */
export function minorText(amount: Minor, digits: number): string {
  if (digits === 0) return amount.toString();
  const plain = (amount < 0n ? -amount : amount).toString().padStart(digits + 1, '0');
  return `${amount < 0n ? '-' : ''}${plain.slice(0, -digits)}.${plain.slice(-digits)}`;
}

/** An exact amount: `over / under` trillionths. */
export type Fraction = { readonly over: bigint; readonly under: bigint };

/** The prices a shop allows: whole minor units, and those with its ending where it has one. */
export class PriceSteps {
  readonly digits: number;
  /** one minor unit, in trillionths. */
  readonly one: bigint;
  readonly #ending: { readonly step: bigint; readonly offset: bigint } | undefined;

  constructor(digits: number, ending: { readonly step: string; readonly offset: string } | null) {
    this.digits = digits;
    this.one = minorOne(digits);
    this.#ending =
      ending === null ? undefined : { step: amountOf(ending.step), offset: amountOf(ending.offset) };
  }

  /** Whether only some of the whole minor units are allowed. */
  get hasEnding(): boolean {
    return this.#ending !== undefined;
  }

  /** The amount rounded up to whole minor units. */
  raiseToMinor({ over, under }: Fraction): Minor {
    return ceilOf(over, under * this.one);
  }

  /** The least allowed price that is not under the amount: with step 1.00 and offset 0.95, 19.20 becomes 19.95. */
  raise(amount: Fraction): Minor {
    if (this.#ending === undefined) return this.raiseToMinor(amount);
    const { step, offset } = this.#ending;
    const { over, under } = amount;
    const steps = ceilOf(over - offset * under, step * under);
    return this.raiseToMinor({ over: steps > 0n ? offset + step * steps : offset, under: 1n });
  }
}
