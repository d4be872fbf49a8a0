import type { CompiledCatalog } from '../catalog/compile.ts';
import { scaleToTotal } from '../largest-remainder.ts';
import type { RoutedLine, RoutedSlip } from '../routing/routed.ts';
import { costOf } from './bill.ts';
import { priceSlip } from './price.ts';
import type { BillOfCost, Ladder } from './types.ts';

/*
 * The fair ladder: a slip with more pieces never has a lower total.
 *
 * "More" means: every line of the one slip is in the other with the same artwork, finish and methods, with at least as
 * many pieces of each size; there may be further sizes, colors, lines and placements' designs besides.
 *
 * 1. List price. Let raw(s) be the sum of a slip's list prices. Charged is fair(s), the least raw(t) over all slips t
 *    with more pieces than s, s among them. When t has more than s, every slip with more than t has more than s, so
 *    fair(s) is the least over a wider choice, and fair(s) <= fair(t).
 *    It is found by looking at each break once: blanks and finishes are priced apart from each other; within one, all
 *    slips t whose pieces reach the same break have the same units, so the cheapest of them has the fewest pieces: those
 *    of s, and as many of the plainest size and one placement as the break still lacks. There are at most 30 breaks.
 *
 * 2. Bounds by cost. Let B(s) be cost / (1 - share), raised to minor units. A bill grows when pieces are added: each of
 *    its quantities does (sheets by the steady count). And each piece more adds at least what the cheapest blank of the
 *    catalog costs: with d as that over (1 - share), lowered to minor units, B(t) >= B(s) + d when t has more
 *    pieces. Charged is something from B(s) to B(s) + d, whatever endings and rounding make of it within that band.
 *    So the charge of s <= B(s) + d <= B(t) <= the charge of t.
 *
 * 3. With a list and a floor the charge is the larger of 1 and 2, where set-up fees count as earned: the larger of two
 *    amounts that never fall never falls. Rush, delivery and tax are added by functions that never fall, rounding among
 *    them. So the total never falls.
 *
 * This holds for given methods. Where another count makes other methods the cheapest, list prices stay as they are; a
 * price by cost follows the least cost, which falls only where a method becomes possible at a higher count at all.
 */

/** Counts shown where prices have no breaks of their own. */
const COUNTS = [1, 5, 10, 25, 50, 100, 250, 500] as const;
/** Most rungs of a ladder. */
const RUNGS_MOST = 12;

/**
 * What one line would cost at other counts, the rest of the slip as it is: at every break of its list price, or at usual
 * counts where prices follow cost, and at its own count. Sizes keep their proportions; methods stay the line's own.
 *
 * @param line index of the line
 * @param cost bill of the slip as it is
 */
export function ladderOf(
  catalog: CompiledCatalog,
  routed: RoutedSlip,
  line: number,
  cost: BillOfCost,
): Ladder {
  const own = routed.lines[line]!;
  return countsOf(catalog, routed, line).map((count) => {
    const at = count === own.pieces ? routed : withCount(routed, line, count);
    const priced = priceSlip(catalog, at, count === own.pieces ? cost : costOf(catalog, at));
    return { count, unit: priced.unitOf(line), total: priced.totalOf(line) };
  });
}

/**
 * Counts of a line from which the list price of one piece is another, the pieces of like lines (same blank, same finish)
 * counted in: below 1 where these alone reach a break. Undefined where the line has no list price.
 */
export function listBreaks(
  catalog: CompiledCatalog,
  routed: RoutedSlip,
  index: number,
): readonly number[] | undefined {
  const { mode, list } = catalog.catalog.prices;
  const own = routed.lines[index]!;
  const price = list.find((entry) => entry.blank === own.blank.id && entry.finish === own.finish.id);
  if (mode === 'cost-plus' || price === undefined) return undefined;
  const alike = routed.lines.filter(
    ({ blank, finish }) => blank.id === own.blank.id && finish.id === own.finish.id,
  );
  const others = alike.reduce((sum, { pieces }) => sum + pieces, 0) - own.pieces;
  return price.breaks.map(({ from }) => from - others);
}

function countsOf(catalog: CompiledCatalog, routed: RoutedSlip, index: number): number[] {
  const own = routed.lines[index]!;
  const counts = new Set<number>([own.pieces]);
  if (catalog.catalog.prices.mode === 'list')
    for (const count of listBreaks(catalog, routed, index) ?? []) counts.add(Math.max(1, count));
  else for (const count of COUNTS) counts.add(count);
  const sorted = [...counts].sort((one, other) => one - other);
  if (sorted.length <= RUNGS_MOST) return sorted;
  const place = sorted.indexOf(own.pieces);
  const from = Math.max(0, Math.min(place - RUNGS_MOST / 2, sorted.length - RUNGS_MOST));
  return sorted.slice(from, from + RUNGS_MOST);
}

/** The slip with another count of one line; sizes keep their proportions as nearly as whole pieces can. */
function withCount(routed: RoutedSlip, index: number, count: number): RoutedSlip {
  const lines = routed.lines.map((line, place) => (place === index ? scaledLine(line, count) : line));
  return { slip: { ...routed.slip, lines: lines.map(({ line }) => line) }, lines };
}

function scaledLine(routed: RoutedLine, count: number): RoutedLine {
  const { line, pieces } = routed;
  return {
    ...routed,
    pieces: count,
    line: { ...line, counts: scaleToTotal(line.counts, count) },
    placements: routed.placements.map((placement) =>
      placement.distinct === 1
        ? placement
        : { ...placement, distinct: Math.max(1, Math.round((placement.distinct * count) / pieces)) },
    ),
  };
}
