import type { Charge } from '../contract/index.ts';
import { allocate } from './allocate.ts';
import { sumOf } from './amounts.ts';
import type { Fraction, Minor, PriceSteps } from './minor-units.ts';

/** A charge on a line, not yet written. */
export type LineCharge = {
  readonly code: Charge['code'];
  readonly amount: Minor;
  readonly params: Charge['params'];
};

/** The pieces of a line in one size and what one of them sells for. */
type Row<Unit> = { readonly size: string; readonly count: number; readonly unit: Unit };

type Goods<Unit> = {
  /** one piece of the plainest size. */
  readonly unit: Unit;
  readonly rows: readonly Row<Unit>[];
  readonly charges: readonly LineCharge[];
};

/** A line as priced. */
export type LineGoods = Goods<Minor>;

/** A line as it would be priced if there were no least coin. */
export type Aims = Goods<Fraction>;

/** What a line comes to. */
export function lineTotal({ rows, charges }: Pick<LineGoods, 'rows' | 'charges'>): Minor {
  let total = 0n;
  for (const { unit, count } of rows) total += unit * BigInt(count);
  for (const { amount } of charges) total += amount;
  return total;
}

/** What lines come to. */
export function totalOf(lines: readonly LineGoods[]): Minor {
  return sumOf(lines.map(lineTotal));
}

/** Takes a whole amount off some lines, by their weights, as a charge. */
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
 * Units raised to allowed prices, so that the sum of all lines lies between the bottom the aims come to and `top`: to
 * prices with the shop's ending; where that would carry the sum over `top`, to whole minor units; and where even these
 * do (many pieces), with what is over taken off again.
 *
 * Why there is a top: see ladder.ts.
 */
export function withinBand(aims: readonly Aims[], steps: PriceSteps, top: Minor): LineGoods[] {
  if (steps.hasEnding) {
    const ended = raised(aims, (unit) => steps.raise(unit));
    if (totalOf(ended) <= top) return ended;
  }
  const whole = raised(aims, (unit) => steps.raiseToMinor(unit));
  const totals = whole.map(lineTotal);
  const over = sumOf(totals) - top;
  return over > 0n ? deduct(whole, over, totals, 'rounding') : whole;
}

function raised(aims: readonly Aims[], raise: (unit: Fraction) => Minor): LineGoods[] {
  return aims.map(({ unit, rows, charges }) => ({
    unit: raise(unit),
    rows: rows.map((row) => ({ ...row, unit: raise(row.unit) })),
    charges,
  }));
}
