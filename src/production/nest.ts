import { packOneSize } from './nest/block-layout.ts';
import { sheetLowerBound } from './nest/lower-bound.ts';
import { type FitRule, fillSheet } from './nest/max-rects.ts';
import { monotoneCount } from './nest/monotone-count.ts';
import type { Bin, Block, Item, RepeatedSheet } from './nest/types.ts';

/** A sheet for prints, mm: its margin stays empty, and prints keep the gap from each other. */
export type NestSheet = {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly marginMm: number;
  readonly gapMm: number;
};

/** Prints of one size: box in mm and how many. */
export type NestPrints = { readonly widthMm: number; readonly heightMm: number; readonly count: number };

/** Prints of one size in columns and rows; `xMm`, `yMm` of the first, from the sheet's upper left corner. */
export type NestBlock = {
  /** index into the prints given. */
  readonly prints: number;
  readonly xMm: number;
  readonly yMm: number;
  /** rotated by a quarter turn. */
  readonly turned: boolean;
  readonly columns: number;
  readonly rows: number;
};

/** One layout and the number of sheets that have it. */
export type NestedSheets = { readonly times: number; readonly blocks: readonly NestBlock[] };

/** Prints nested on sheets. */
export type Nest = {
  readonly sheets: number;
  /** no layout needs fewer sheets than this. */
  readonly lowerBound: number;
  readonly layouts: readonly NestedSheets[];
};

/** Resolution of lengths, per mm. */
const PER_MM = 1000;
/** How far a print may reach over the margin, mm: rounding in drawings, and less than the accuracy of any sheet feed. */
const EDGE_MM = 0.05;
/** Free rectangles examined before no further strategy is tried. */
const WORK_LIMIT = 30_000;

/** Strategies, those that win most often first (measured on published bin packing problems). */
const RULES: readonly FitRule[] = ['short-side', 'top-left', 'area'];
const ORDERS: readonly ((item: Item) => number)[] = [
  ({ width, height }) => width * height,
  ({ width, height }) => Math.max(width, height),
  ({ width, height }) => Math.min(width, height),
  ({ width, height }) => width + height,
];

/** Whether a print of this size fits a sheet at all. */
export function fitsSheet(sheet: NestSheet, widthMm: number, heightMm: number, mayTurn = true): boolean {
  return fits(binOf(sheet), itemOf({ widthMm, heightMm, count: 1 }, sheet), mayTurn);
}

/**
 * Nests prints on as few sheets as it can find: tries several strategies that fill sheet after sheet by max-rects, and
 * repeats each filled sheet as often as the counts allow. Never takes more sheets than `monotoneSheets`. Deterministic.
 *
 * @param mayTurn whether prints may be rotated by a quarter turn. Default true.
 * @throws RangeError when a print fits no sheet, a length is not positive, or a count is not a whole number from 0 up
 */
export function nest(sheet: NestSheet, prints: readonly NestPrints[], mayTurn = true): Nest {
  const { bin, items } = packingOf(sheet, prints, mayTurn);
  const lowerBound = sheetLowerBound(bin, items, mayTurn);
  const monotone = monotoneCount(bin, items, mayTurn, lowerBound);
  let best: readonly RepeatedSheet[] | undefined;
  let { sheets } = monotone;
  const work = { steps: 0 };
  for (const order of ORDERS)
    for (const rule of RULES) {
      if (sheets <= lowerBound || work.steps > WORK_LIMIT) break;
      const found = fillAll(bin, items, order, rule, mayTurn, sheets, work);
      if (found === undefined) continue;
      best = found.layouts;
      sheets = found.sheets;
    }
  const layouts = best ?? monotone.layouts();
  return { sheets, lowerBound, layouts: layouts.map((layout) => toMm(layout, sheet)) };
}

/**
 * How many sheets the prints take, counted so that larger counts never need fewer sheets, as a price that must not fall
 * requires. At least as many as `nest` takes, at most as many as with every size on sheets of its own.
 *
 * @throws RangeError as `nest`
 */
export function monotoneSheets(sheet: NestSheet, prints: readonly NestPrints[], mayTurn = true): number {
  const { bin, items } = packingOf(sheet, prints, mayTurn);
  return monotoneCount(bin, items, mayTurn, sheetLowerBound(bin, items, mayTurn)).sheets;
}

/** How many prints of one size a sheet holds; 0 when none fits. */
export function printsPerSheet(sheet: NestSheet, widthMm: number, heightMm: number, mayTurn = true): number {
  const bin = binOf(sheet);
  const item = itemOf({ widthMm, heightMm, count: 1 }, sheet);
  return fits(bin, item, mayTurn) ? packOneSize(bin, item, 0, mayTurn).count : 0;
}

function packingOf(
  sheet: NestSheet,
  prints: readonly NestPrints[],
  mayTurn: boolean,
): { readonly bin: Bin; readonly items: readonly Item[] } {
  const bin = binOf(sheet);
  const items = prints.map((print, index) => {
    const item = itemOf(print, sheet);
    if (!Number.isSafeInteger(print.count) || print.count < 0)
      throw new RangeError(`prints ${index}: the count ${print.count} is not a whole number from 0 up`);
    if (!(print.widthMm > 0 && print.heightMm > 0))
      throw new RangeError(`prints ${index}: ${print.widthMm} x ${print.heightMm} mm is no size`);
    if (!fits(bin, item, mayTurn))
      throw new RangeError(
        `prints ${index}: ${print.widthMm} x ${print.heightMm} mm do not fit a sheet of ` +
          `${sheet.widthMm} x ${sheet.heightMm} mm with margins of ${sheet.marginMm} mm`,
      );
    return item;
  });
  return { bin, items };
}

function binOf({ widthMm, heightMm, marginMm, gapMm }: NestSheet): Bin {
  const inner = (mm: number): number => Math.round((mm - 2 * marginMm + gapMm + EDGE_MM) * PER_MM);
  return { width: inner(widthMm), height: inner(heightMm) };
}

function itemOf({ widthMm, heightMm, count }: NestPrints, { gapMm }: NestSheet): Item {
  return {
    width: Math.max(1, Math.round((widthMm + gapMm) * PER_MM)),
    height: Math.max(1, Math.round((heightMm + gapMm) * PER_MM)),
    count,
  };
}

function fits(bin: Bin, { width, height }: Item, mayTurn: boolean): boolean {
  const upright = width <= bin.width && height <= bin.height;
  return upright || (mayTurn && height <= bin.width && width <= bin.height);
}

/** Fills sheet after sheet until nothing is left; undefined if that takes `limit` sheets or more. */
function fillAll(
  bin: Bin,
  items: readonly Item[],
  orderOf: (item: Item) => number,
  rule: FitRule,
  mayTurn: boolean,
  limit: number,
  work: { steps: number },
): { readonly sheets: number; readonly layouts: readonly RepeatedSheet[] } | undefined {
  const order = items
    .map((_, index) => index)
    .sort((one, other) => orderOf(items[other]!) - orderOf(items[one]!) || one - other);
  const remaining = items.map(({ count }) => count);
  const layouts: RepeatedSheet[] = [];
  let sheets = 0;
  while (remaining.some((count) => count > 0)) {
    const { blocks, used } = fillSheet(bin, items, order, remaining, rule, mayTurn, work);
    let times = Number.POSITIVE_INFINITY;
    used.forEach((count, index) => {
      if (count > 0) times = Math.min(times, Math.floor(remaining[index]! / count));
    });
    used.forEach((count, index) => {
      remaining[index]! -= count * times;
    });
    sheets += times;
    if (sheets >= limit) return undefined;
    layouts.push({ times, blocks });
  }
  return { sheets, layouts };
}

function toMm({ times, blocks }: RepeatedSheet, sheet: NestSheet): NestedSheets {
  return { times, blocks: blocks.map((block) => blockOf(block, sheet)) };
}

function blockOf(block: Block, { marginMm }: NestSheet): NestBlock {
  return {
    prints: block.item,
    xMm: marginMm + block.x / PER_MM,
    yMm: marginMm + block.y / PER_MM,
    turned: block.turned,
    columns: block.columns,
    rows: block.rows,
  };
}
