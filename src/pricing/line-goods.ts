import type { Charge } from '../contract/index.ts';
import { allocate } from './allocate.ts';
import { sumOf } from './amounts.ts';
import type { Fraction, Minor, PriceSteps } from './minor-units.ts';

/** A charge on a line, in minor units. */
export type LineCharge = {
  readonly code: Charge['code'];
  readonly amount: Minor;
  readonly params: Charge['params'];
};

/** The pieces of a line in one size and what one of them sells for. */
type Row<Unit> = { readonly size: string; readonly count: number; readonly unit: Unit };

type Goods<Unit> = {
  /** one piece of the size with the least surcharge. */
  readonly unit: Unit;
  readonly rows: readonly Row<Unit>[];
  readonly charges: readonly LineCharge[];
};

/** A priced line. */
export type LineGoods = Goods<Minor>;

/** A line at exact prices, before they are rounded to allowed ones. */
export type ExactGoods = Goods<Fraction>;

/** The total of a line. */
export function lineTotal({ rows, charges }: Pick<LineGoods, 'rows' | 'charges'>): Minor {
  let total = 0n;
  for (const { unit, count } of rows) total += unit * BigInt(count);
  for (const { amount } of charges) total += amount;
  return total;
}

/** The total of lines. */
export function totalOf(lines: readonly LineGoods[]): Minor {
  return sumOf(lines.map(lineTotal));
}

/** Takes an amount off lines, shared out by weights, as a charge. */
export function deduct(
  lines: readonly LineGoods[],
  amount: Minor,
  weights: readonly bigint[],
  code: Charge['code'],
  params: (line: number) => Charge['params'] = () => ({}),
): LineGoods[] {
  if (amount === 0n) return [...lines];
  const parts = allocate(-amount, weights);
  return lines.map((line, index) =>
    parts[index] === 0n
      ? line
      : {
          ...line,
          charges: [...line.charges, { code, amount: parts[index]!, params: params(index) }],
        },
  );
}

/**
 * Raises units to allowed prices so that the sum of all lines lies between the exact sum and `top`: to prices with the
 * shop's ending; where that exceeds `top`, to whole minor units; where even these do (many pieces), with the excess taken
 * off again. ladder.ts says why there is a top.
 */
export function withinBand(exact: readonly ExactGoods[], steps: PriceSteps, top: Minor): LineGoods[] {
  if (steps.hasEnding) {
    const ended = raised(exact, (unit) => steps.raise(unit));
    if (totalOf(ended) <= top) return ended;
  }
  const whole = raised(exact, (unit) => steps.raiseToMinor(unit));
  const totals = whole.map(lineTotal);
  const over = sumOf(totals) - top;
  return over > 0n ? deduct(whole, over, totals, 'rounding') : whole;
}

function raised(exact: readonly ExactGoods[], raise: (unit: Fraction) => Minor): LineGoods[] {
  return exact.map(({ unit, rows, charges }) => ({
    unit: raise(unit),
    rows: rows.map((row) => ({ ...row, unit: raise(row.unit) })),
    charges,
  }));
}
