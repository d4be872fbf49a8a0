import type { RoutedSlip } from '../routing/routed.ts';
import type { Band } from './band.ts';
import { type LineGoods, withinBand } from './goods.ts';
import { type Money, money, ZERO } from './money.ts';
import type { PriceBook } from './price-book.ts';
import type { BillOfCost } from './shapes.ts';

/**
 * Prices every line at its cost and a share over it. A size costs what its blank costs, and an equal part of all else the
 * line costs; what lines share is shared out as in the bill.
 */
export function costPlusGoods(
  book: PriceBook,
  routed: RoutedSlip,
  cost: BillOfCost,
  share: Money,
  band: Band,
): LineGoods[] {
  const kept = share.negated().plus(1);
  const aims = routed.lines.map(({ line, blank, color, pieces }, index): LineGoods => {
    const extra = money(color.extraCost);
    const blankCost = (size: (typeof blank.sizes)[number]): Money => money(size.cost).plus(extra);
    const rows = line.counts.map(({ size, count }) => ({
      size,
      count,
      cost: blankCost(blank.sizes.find(({ id }) => id === size)!),
    }));
    const blanks = rows.reduce((sum, row) => sum.plus(row.cost.times(row.count)), ZERO);
    const rest = cost.basisByLine[index]!.minus(blanks);
    // One division, so that an amount that comes out even is not a hair over it, and raised.
    const aim = (blankOf: Money): Money =>
      rest.plus(blankOf.times(pieces)).times(book.gross).div(kept.times(pieces));
    const plainest = blank.sizes.map(blankCost).reduce((one, other) => (other.lt(one) ? other : one));
    return {
      unit: aim(plainest),
      rows: rows.map(({ size, count, cost: blankOf }) => ({ size, count, unit: aim(blankOf) })),
      charges: [],
    };
  });
  return withinBand(aims, book.steps, band.top);
}
