import { ceilOf, floorOf, ONE } from './amounts.ts';
import type { Minor } from './minor-units.ts';
import type { PriceBook } from './price-book.ts';
import type { BillOfCost } from './types.ts';

/** The least a slip may sell for, and the most that endings and whole minor units may make of it. */
export type PriceBand = { readonly bottom: Minor; readonly top: Minor };

/**
 * The band of prices that leave a share of themselves over cost: `cost / (1 - share)`, tax added where prices include
 * it, raised to whole minor units. It is as wide as the least that one piece more adds to the bottom; ladder.ts says why.
 *
 * @param share trillionths, less than 1
 */
export function bandOf(book: PriceBook, { basis }: Pick<BillOfCost, 'basis'>, share: bigint): PriceBand {
  const under = (ONE - share) * book.steps.one;
  const bottom = ceilOf(basis * book.gross, under);
  return { bottom, top: bottom + floorOf(book.leastPieceCost * book.gross, under) };
}

/** Whether an amount leaves the share over cost, that is, whether it is not below the band. */
export function leavesShare(book: PriceBook, cost: BillOfCost, share: bigint, amount: Minor): boolean {
  return cost.isAtMost(floorOf(amount * (ONE - share) * book.steps.one, book.gross));
}
