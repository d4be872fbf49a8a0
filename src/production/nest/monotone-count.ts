import { packOneSize } from './block-layout.ts';
import { Shelves, type TurnRule } from './shelves.ts';
import type { Bin, Block, Item, RepeatedSheet } from './types.ts';

const TURN_RULES: readonly TurnRule[] = ['most', 'flat', 'upright'];

/** Sheets needed by a count that never falls when prints are added, and the layouts that reach it. */
export type MonotoneCount = { readonly sheets: number; readonly layouts: () => RepeatedSheet[] };

/**
 * How many sheets the prints take, counted so that adding prints never lowers the count. It is the least of several
 * counts that each have this property, and each belongs to a layout that can be made. Nesting that looks for the best
 * place for every print lacks it: with one print more it may happen on a better layout.
 *
 * Each size on sheets of its own, `Σ ceil(count / prints of it per sheet)`, clearly has it. The other counts work so:
 *
 * 1. All prints are queued in rounds: one of every size, then a second of every size that has one, and so on. An added
 *    print is one more in the queue and leaves the order of the others as it was.
 * 2. A sheet takes prints from the queue as long as they fit; then the next sheet begins (next fit).
 * 3. Prints fit a sheet if shelves hold them: sorted by height, highest first, side by side; where one does not fit the
 *    shelf, the next shelf begins. A shelf is as high as its first print.
 *
 * What fits by 3 still fits when a print is removed: shelves are next fit over widths, so with more prints in the sorted
 * order the k-th shelf starts no later in it, is at least as high, and there are at least as many shelves. Hence, with
 * one more print in queue 1, the k-th sheet starts no later. By induction: if it ended later, it would hold all that the
 * sheet without the added print held and one more, which did not fit. So there are at least as many sheets.
 *
 * @param lowerBound of the sheets of any layout; the search stops where it is reached.
 */
export function monotoneCount(
  bin: Bin,
  items: readonly Item[],
  mayTurn: boolean,
  lowerBound: number,
): MonotoneCount {
  let sheets = 0;
  items.forEach((item, index) => {
    sheets += Math.ceil(item.count / packOneSize(bin, item, index, mayTurn).count);
  });
  let best: MonotoneCount = { sheets, layouts: () => oneSizePerSheet(bin, items, mayTurn) };
  if (items.length < 2) return best;
  for (const across of [true, false]) {
    for (const rule of mayTurn ? TURN_RULES : (['never'] as const)) {
      if (best.sheets <= lowerBound) return best;
      const shelves = new Shelves(bin, items, across, rule);
      const count = shelves.count();
      if (count < best.sheets) best = { sheets: count, layouts: () => shelves.layouts() };
    }
  }
  return best;
}

/** Every size on sheets of its own. */
function oneSizePerSheet(bin: Bin, items: readonly Item[], mayTurn: boolean): RepeatedSheet[] {
  return items.flatMap((item, index) => {
    const { count, blocks } = packOneSize(bin, item, index, mayTurn);
    const layouts: RepeatedSheet[] = [];
    const full = Math.floor(item.count / count);
    if (full > 0) layouts.push({ times: full, blocks });
    const rest = item.count - full * count;
    if (rest > 0) layouts.push({ times: 1, blocks: firstPrints(blocks, rest, item) });
    return layouts;
  });
}

/** The first `prints` prints of blocks of one item. */
function firstPrints(blocks: readonly Block[], prints: number, item: Item): Block[] {
  const kept: Block[] = [];
  let rest = prints;
  for (const block of blocks) {
    const rows = Math.min(block.rows, Math.floor(rest / block.columns));
    if (rows > 0) kept.push({ ...block, rows });
    rest -= rows * block.columns;
    if (rest === 0 || rows === block.rows) continue;
    const y = block.y + rows * (block.turned ? item.width : item.height);
    kept.push({ ...block, y, rows: 1, columns: rest });
    break;
  }
  return kept;
}
