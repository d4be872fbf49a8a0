import type { Money } from './money.ts';
import type { PriceBook } from './price-book.ts';
import type { BillOfCost } from './shapes.ts';

/** The least a slip may sell for, and the most that endings and whole minor units may make of it. */
export type Band = { readonly bottom: Money; readonly top: Money };

/**
 * The band of prices that leave a share of themselves over cost: `cost / (1 - share)`, tax added where prices include
 * it, raised to whole minor units. It is as wide as the least that one piece more adds to the bottom; ladder.ts says why.
 */
export function bandOf(book: PriceBook, { basis }: Pick<BillOfCost, 'basis'>, share: Money): Band {
  const kept = share.negated().plus(1);
  const bottom = book.steps.raiseToMinor(basis.times(book.gross).div(kept));
  const width = book.steps.lowerToMinor(book.leastPieceCost.times(book.gross).div(kept));
  return { bottom, top: bottom.plus(width) };
}
