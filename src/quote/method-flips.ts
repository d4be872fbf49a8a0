import { type Reason, reason } from '../contract/index.ts';
import type { OtherCounts } from './other-counts.ts';

/** Counts tried to find where a method changes. */
const TRIED_COUNTS = [1, 6, 12, 24, 48, 96, 250, 500, 1000] as const;

type Flip = { readonly count: number; readonly method: string };

/**
 * The nearest counts of a line, above and below its own, at which the shop would choose another method for a print. Found
 * by trying usual counts, then by bisection. One reason for the line where all its prints change alike, else one for each.
 */
export function flipsOf(counts: OtherCounts, index: number): Reason[] {
  const { now } = counts;
  const { line, prints } = now.lines[index]!;
  if (line.line.names !== undefined || line.line.method !== undefined) return [];
  const own = now.routed.lines[index]!.placements.map(({ method }) => method.id);
  const open = prints.flatMap(({ fit }, place) => (fit.length > 1 ? [place] : []));
  const search = (place: number, tried: readonly number[]): Flip | undefined => {
    let same = line.pieces;
    for (const count of tried) {
      const methods = counts.methodsAt(index, count);
      if (methods === undefined) return undefined;
      if (methods[place] !== own[place]) return between(place, same, { count, method: methods[place]! });
      same = count;
    }
    return undefined;
  };
  const between = (place: number, from: number, to: Flip): Flip => {
    let same = from;
    let flipped = to;
    while (Math.abs(flipped.count - same) > 1) {
      const middle = Math.floor((flipped.count + same) / 2);
      const there = counts.methodsAt(index, middle)?.[place];
      if (there === undefined || there === own[place]) same = middle;
      else flipped = { count: middle, method: there };
    }
    return flipped;
  };
  const flipReasons = (
    code: 'method-flips-at' | 'method-flips-below',
    tried: readonly number[],
  ): Reason[] => {
    const flips = open.map((place) => search(place, tried));
    const [first] = flips;
    const alike = flips.every((flip) => flip?.count === first?.count && flip?.method === first?.method);
    if (alike) return first === undefined ? [] : [reason(code, first, `lines.${line.index}`)];
    return flips.flatMap((flip, which) => {
      const { face, at } = prints[open[which]!]!.print;
      return flip === undefined ? [] : [reason(code, { ...flip, on: face.id }, at)];
    });
  };
  return [
    ...flipReasons(
      'method-flips-at',
      TRIED_COUNTS.filter((count) => count > line.pieces),
    ),
    ...flipReasons('method-flips-below', TRIED_COUNTS.filter((count) => count < line.pieces).reverse()),
  ];
}
