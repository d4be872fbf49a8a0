import type { Charge } from '../contract/index.ts';
import { allocate, type Money, ZERO } from './money.ts';
import type { PriceSteps } from './price-steps.ts';

/** A charge on a line, not yet written. */
export type LineCharge = {
  readonly code: Charge['code'];
  readonly amount: Money;
  readonly params: Charge['params'];
};

/** The pieces of a line in one size and what one of them sells for. */
export type Row = { readonly size: string; readonly count: number; readonly unit: Money };

/** A line as priced. */
export type LineGoods = {
  /** one piece of the plainest size. */
  readonly unit: Money;
  readonly rows: readonly Row[];
  readonly charges: readonly LineCharge[];
};

/** What a line comes to. */
export function lineTotal({ rows, charges }: Pick<LineGoods, 'rows' | 'charges'>): Money {
  let total = ZERO;
  for (const { unit, count } of rows) total = total.plus(unit.times(count));
  for (const { amount } of charges) total = total.plus(amount);
  return total;
}

export function sumOf(amounts: readonly Money[]): Money {
  return amounts.reduce((sum, amount) => sum.plus(amount), ZERO);
}

/** Takes a whole amount off some lines, by their weights, as a charge. */
export function takeOff(
  lines: readonly LineGoods[],
  amount: Money,
  weights: readonly Money[],
  code: Charge['code'],
  digits: number,
  params: (line: number) => Charge['params'] = () => ({}),
): LineGoods[] {
  if (amount.isZero()) return [...lines];
  const parts = allocate(amount.negated(), weights, digits);
  return lines.map((line, index) =>
    parts[index]!.isZero()
      ? line
      : {
          ...line,
          charges: [...line.charges, { code, amount: parts[index]!, params: params(index) }],
        },
  );
}

/**
 * Units raised to allowed prices, so that the sum of all lines lies between the bottom the aims come to and `top`: to
 * prices with the shop's ending; where that would carry the sum over `top`, to whole minor units; and where even these
 * do (many pieces), with what is over taken off again.
 *
 * Why there is a top: see ladder.ts.
 */
export function withinBand(aims: readonly LineGoods[], steps: PriceSteps, top: Money): LineGoods[] {
  if (steps.hasEnding) {
    const ended = raised(aims, (unit) => steps.raise(unit));
    if (sumOf(ended.map(lineTotal)).lte(top)) return ended;
  }
  const whole = raised(aims, (unit) => steps.raiseToMinor(unit));
  const totals = whole.map(lineTotal);
  const over = sumOf(totals).minus(top);
  return over.isPositive() ? takeOff(whole, over, totals, 'rounding', steps.digits) : whole;
}

function raised(aims: readonly LineGoods[], raise: (unit: Money) => Money): LineGoods[] {
  return aims.map(({ unit, rows, charges }) => ({
    unit: raise(unit),
    rows: rows.map((row) => ({ ...row, unit: raise(row.unit) })),
    charges,
  }));
}
