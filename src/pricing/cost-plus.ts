import type { RoutedSlip } from '../routing/routed.ts';
import { amountOf, leastOf, ONE } from './amounts.ts';
import { type ExactGoods, type LineGoods, withinBand } from './line-goods.ts';
import type { Fraction } from './minor-units.ts';
import type { PriceBand } from './price-band.ts';
import type { PriceBook } from './price-book.ts';
import type { BillOfCost } from './types.ts';

/**
 * Prices every line at its cost plus a margin. A size costs what its blank costs and an equal part of all else that the
 * line costs; shared costs are divided among lines as in the bill.
 *
 * @param share the margin as a share of the price, trillionths, less than 1
 */
export function costPlusGoods(
  book: PriceBook,
  routed: RoutedSlip,
  cost: BillOfCost,
  share: bigint,
  band: PriceBand,
): LineGoods[] {
  const exact = routed.lines.map(({ line, blank, color, pieces }, index): ExactGoods => {
    const extra = amountOf(color.extraCost);
    const blankCost = (size: (typeof blank.sizes)[number]): bigint => amountOf(size.cost) + extra;
    const many = BigInt(pieces);
    const rows = line.counts.map(({ size, count }) => ({
      size,
      count,
      cost: blankCost(blank.sizes.find(({ id }) => id === size)!),
    }));
    let rest = cost.basisByLine[index]!;
    for (const row of rows) rest -= row.cost * BigInt(row.count);
    // One fraction, so that an amount that comes out even is not rounded to just over it and then raised.
    const aim = (blankOf: bigint): Fraction => ({
      over: (rest + blankOf * many) * book.gross,
      under: (ONE - share) * many,
    });

    return {
      unit: aim(leastOf(blank.sizes.map(blankCost))),
      rows: rows.map(({ size, count, cost: blankOf }) => ({ size, count, unit: aim(blankOf) })),
      charges: [],
    };
  });
  return withinBand(exact, book.steps, band.top);
}
