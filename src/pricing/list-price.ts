import { type Reason, reason } from '../contract/index.ts';
import type { RoutedLine, RoutedSlip } from '../routing/routed.ts';
import { allocate } from './allocate.ts';
import { amountOf } from './amounts.ts';
import { type LineCharge, type LineGoods, lineTotal, totalOf } from './line-goods.ts';
import { type Minor, minorText } from './minor-units.ts';
import type { ListPrice, PriceBook, PriceBreak } from './price-book.ts';

/** Lines at list price, with what the fair ladder takes off each. */
export type ListGoods = {
  readonly lines: readonly LineGoods[];
  /** by line, 0 or more. */
  readonly cuts: readonly Minor[];
  /** by line: the count whose total caps it. */
  readonly capCounts: readonly (number | undefined)[];
  readonly reasons: () => Reason[];
};

/** Lines of one blank in one finish. Their pieces count together for the breaks, whatever their color and artwork. */
type Group = { readonly price: ListPrice; readonly lines: number[]; pieces: number };

/** Prices every line of a slip from the list. The fair ladder is explained in ladder.ts. */
export function listGoods(book: PriceBook, routed: RoutedSlip): ListGoods {
  const groups = new Map<string, Group>();
  routed.lines.forEach((line, index) => {
    const key = `${line.blank.id} ${line.finish.id}`;
    let group = groups.get(key);
    if (group === undefined) {
      const price = book.list.get(key);
      if (price === undefined)
        throw new RangeError(
          `there is no list price for blank "${line.blank.id}" in finish "${line.finish.id}"`,
        );
      group = { price, lines: [], pieces: 0 };
      groups.set(key, group);
    }
    group.lines.push(index);
    group.pieces += line.pieces;
  });
  const lines: LineGoods[] = [];
  const cuts: Minor[] = routed.lines.map(() => 0n);
  const capCounts: (number | undefined)[] = routed.lines.map(() => undefined);
  const reasons: (() => Reason[])[] = [];
  for (const group of groups.values()) {
    const reached = breakAt(group.price, group.pieces);
    const members = group.lines.map((index) => routed.lines[index]!);
    const goods = members.map((line) => goodsAt(book, line, group.price, group.price.breaks[reached]!));
    const cap = capOf(book, group, members, reached, totalOf(goods));
    const parts = cap && allocate(cap.cut, goods.map(lineTotal));
    group.lines.forEach((index, place) => {
      lines[index] = goods[place]!;
      if (cap === undefined || parts === undefined) return;
      cuts[index] = parts[place]!;
      capCounts[index] = cap.count;
    });
    reasons.push(() =>
      group.lines.flatMap((index) => lineReasons(book, group, routed.lines[index]!, reached, index, cap)),
    );
  }
  return { lines, cuts, capCounts, reasons: () => reasons.flatMap((ofGroup) => ofGroup()) };
}

/** Index of the last break that a count reaches. */
function breakAt({ breaks }: ListPrice, pieces: number): number {
  let place = 0;
  while (place + 1 < breaks.length && breaks[place + 1]!.from <= pieces) place++;
  return place;
}

/** A line at a break's prices. */
function goodsAt(book: PriceBook, { line, pieces }: RoutedLine, price: ListPrice, at: PriceBreak): LineGoods {
  const charges: LineCharge[] = [];
  const charge = (code: LineCharge['code'], each: Minor, perPiece: number): void => {
    if (perPiece === 0 || each === 0n) return;
    const count = perPiece * pieces;
    const params = { count, unit: minorText(each, book.steps.digits) };
    charges.push({ code, amount: each * BigInt(count), params });
  };
  charge('extra-placement', price.extraPlacement, Math.max(0, line.placements.length - 1));
  charge('names', price.name, line.names === undefined ? 0 : 1);
  return {
    unit: at.plainest,
    rows: line.counts.map(({ size, count }) => ({ size, count, unit: at.bySize.get(size)! })),
    charges,
  };
}

type Cap = { readonly cut: Minor; readonly count: number; readonly total: Minor };

/**
 * How far the total is above the least total of more pieces. For each later break that is the pieces there are at its
 * prices, plus as many of the plainest as are missing to reach it.
 */
function capOf(
  book: PriceBook,
  { price, pieces }: Group,
  members: readonly RoutedLine[],
  reached: number,
  raw: Minor,
): Cap | undefined {
  let least = raw;
  let count = 0;
  for (const at of price.breaks.slice(reached + 1)) {
    const missing = at.plainest * BigInt(at.from - pieces);
    if (missing >= least) continue;
    const total = totalOf(members.map((line) => goodsAt(book, line, price, at))) + missing;
    if (total >= least) continue;
    least = total;
    count = at.from;
  }
  return count === 0 ? undefined : { cut: raw - least, count, total: least };
}

function lineReasons(
  book: PriceBook,
  { price }: Group,
  { blank, line }: RoutedLine,
  reached: number,
  index: number,
  cap: Cap | undefined,
): Reason[] {
  const at = `lines.${index}`;
  const reasons: Reason[] = [];
  for (const { size } of line.counts) {
    const { surcharge } = blank.sizes.find(({ id }) => id === size)!;
    if (amountOf(surcharge) !== 0n) reasons.push(reason('size-surcharge', { size, surcharge }, at));
  }
  const now = price.breaks[reached]!.plainest;
  const next = price.breaks.slice(reached + 1).find(({ plainest }) => plainest < now);
  if (next !== undefined) {
    const unit = minorText(next.plainest, book.steps.digits);
    reasons.push(reason('next-count-cheaper', { count: next.from, unit }, at));
  }
  if (cap !== undefined) {
    const total = minorText(cap.total, book.steps.digits);
    reasons.push(reason('count-capped', { count: cap.count, total }, at));
  }
  return reasons;
}
