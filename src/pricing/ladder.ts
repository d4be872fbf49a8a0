import type { CompiledCatalog } from '../catalog/compile.ts';
import { scaleToTotal } from '../largest-remainder.ts';
import type { RoutedLine, RoutedSlip } from '../routing/routed.ts';
import { costOf } from './bill.ts';
import { priceSlip } from './price.ts';
import type { BillOfCost, Ladder } from './types.ts';

/*
 * The fair ladder: a slip with more pieces never has a lower total.
 *
 * "More" means: every line of the one slip is in the other with the same artwork, finish and methods and at least as many
 * pieces of each size. The other may have further sizes, colors, lines and designs.
 *
 * 1. List price. Let raw(s) be the sum of a slip's list prices. The charge is fair(s), the least raw(t) over s and all
 *    slips t with more pieces. When t has more than s, every slip with more than t has more than s, so fair(s) is the least
 *    of a larger set, and fair(s) <= fair(t).
 *    It is found by looking at each break once. Blanks and finishes are priced independently. Within one, all slips t
 *    whose pieces reach the same break have the same units, so the cheapest of them has the fewest pieces: those of s, and
 *    as many of the plainest size with one placement as the break still lacks. There are at most 30 breaks.
 *
 * 2. Bounds by cost. Let B(s) be cost / (1 - share), rounded up to minor units. A bill grows when pieces are added, since
 *    each of its quantities does (sheets by the steady count). Each further piece adds at least what the cheapest blank of
 *    the catalog costs. With d as that over (1 - share), rounded down to minor units, B(t) >= B(s) + d when t has more
 *    pieces. The charge is between B(s) and B(s) + d, whatever endings and rounding make of it within that band. So the
 *    charge of s <= B(s) + d <= B(t) <= the charge of t.
 *
 * 3. With a list and a floor the charge is the larger of 1 and 2, with set-up fees counted as earned: the larger of two
 *    amounts that never fall never falls. Rush, delivery, tax and rounding are functions that never fall. So the total
 *    never falls.
 *
 * This holds for given methods. Where another count makes other methods the cheapest, list prices stay as they are; a
 * price by cost follows the least cost, which falls only where a higher count makes a method possible at all.
 */

/** Counts shown where prices have no breaks. */
const USUAL_COUNTS = [1, 5, 10, 25, 50, 100, 250, 500] as const;
const MAX_RUNGS = 12;

/**
 * What one line would sell for at other counts, with the rest of the slip as it is: at every break of its list price, or at
 * usual counts where prices follow cost, and at its own count. Sizes keep their proportions; methods stay the same.
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
 * Counts of a line from which the list price of one piece changes. Other lines of the same blank and finish count too, so a
 * count is below 1 where those alone reach a break. Undefined where the line has no list price.
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
  else for (const count of USUAL_COUNTS) counts.add(count);
  const sorted = [...counts].sort((one, other) => one - other);
  if (sorted.length <= MAX_RUNGS) return sorted;
  const place = sorted.indexOf(own.pieces);
  const from = Math.max(0, Math.min(place - MAX_RUNGS / 2, sorted.length - MAX_RUNGS));
  return sorted.slice(from, from + MAX_RUNGS);
}

/** The slip with another count of one line, its sizes in the same proportion. */
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
