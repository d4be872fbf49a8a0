import { Money, money } from './money.ts';

/** The prices a shop allows: whole minor units, and those with its ending where it has one. */
export class PriceSteps {
  readonly digits: number;
  readonly #ending: { readonly step: Money; readonly offset: Money } | undefined;

  constructor(digits: number, ending: { readonly step: string; readonly offset: string } | null) {
    this.digits = digits;
    this.#ending = ending === null ? undefined : { step: money(ending.step), offset: money(ending.offset) };
  }

  /** Whether only some of the whole minor units are allowed. */
  get hasEnding(): boolean {
    return this.#ending !== undefined;
  }

  /** The least whole number of minor units that is not under the amount. */
  raiseToMinor(amount: Money): Money {
    return amount.toDecimalPlaces(this.digits, Money.ROUND_CEIL);
  }

  /** The most minor units that are not over the amount. */
  lowerToMinor(amount: Money): Money {
    return amount.toDecimalPlaces(this.digits, Money.ROUND_FLOOR);
  }

  /** The least allowed price that is not under the amount: with step 1.00 and offset 0.95, 19.20 becomes 19.95. */
  raise(amount: Money): Money {
    if (this.#ending === undefined) return this.raiseToMinor(amount);
    const { step, offset } = this.#ending;
    const steps = amount.minus(offset).div(step).ceil();
    return this.raiseToMinor(offset.plus(steps.isNegative() ? 0 : step.times(steps)));
  }
}
