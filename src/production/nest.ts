import { leastSheets } from './nest/least.ts';
import { type Block, fillAlike, type Kind, type Room } from './nest/like.ts';
import { fillSheet, type Rule } from './nest/max-rects.ts';
import { type Run, steadyCount } from './nest/steady.ts';

/** A sheet prints are laid on, mm: its margin stays empty, prints keep the gap from each other. */
export type NestSheet = {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly marginMm: number;
  readonly gapMm: number;
};

/** Prints of one size: box in mm and how many. */
export type NestPrints = { readonly widthMm: number; readonly heightMm: number; readonly count: number };

/** Like prints in columns and rows on a sheet; `xMm`, `yMm` of the first, from the sheet's upper left corner. */
export type NestBlock = {
  /** index into the prints given. */
  readonly prints: number;
  readonly xMm: number;
  readonly yMm: number;
  /** turned by a quarter. */
  readonly turned: boolean;
  readonly columns: number;
  readonly rows: number;
};

/** Sheets filled alike. */
export type NestedSheets = { readonly times: number; readonly blocks: readonly NestBlock[] };

/** Prints laid on sheets. */
export type Nest = {
  readonly sheets: number;
  /** no layout whatever needs fewer. */
  readonly least: number;
  readonly layouts: readonly NestedSheets[];
};

/** How finely lengths are taken, per mm. */
const PER_MM = 1000;
/** How far a print may reach over the room a sheet has, mm: rounding in drawings, and less than any sheet feeds true. */
const EDGE_MM = 0.05;
/** Free rectangles looked at before no further way of filling is tried. */
const WORK_LIMIT = 30_000;

/** Ways of filling sheets, the ones that do best most often first (measured on published bin packing problems). */
const RULES: readonly Rule[] = ['short-side', 'top-left', 'area'];
const ORDERS: readonly ((kind: Kind) => number)[] = [
  ({ width, height }) => width * height,
  ({ width, height }) => Math.max(width, height),
  ({ width, height }) => Math.min(width, height),
  ({ width, height }) => width + height,
];

/**
 * Whether a print of this size fits a sheet at all.
 */
export function fitsSheet(sheet: NestSheet, widthMm: number, heightMm: number, mayTurn = true): boolean {
  return fits(roomOf(sheet), kindOf({ widthMm, heightMm, count: 1 }, sheet), mayTurn);
}

/**
 * Lays prints on sheets so that as few sheets as can be found are used: several ways of filling sheet after sheet by
 * max-rects are tried, and for each sheet filled, as many more like it as the counts allow are taken at once. Never more
 * sheets than `steadySheets` counts. Same input, same layout.
 *
 * @param mayTurn whether prints may be turned by a quarter. Default true.
 * @throws RangeError when a print fits no sheet, or a length or count is not a number it can be; see `fitsSheet`
 */
export function nest(sheet: NestSheet, prints: readonly NestPrints[], mayTurn = true): Nest {
  const { room, kinds } = planeOf(sheet, prints, mayTurn);
  const least = leastSheets(room, kinds, mayTurn);
  const steady = steadyCount(room, kinds, mayTurn, least);
  let best: readonly Run[] | undefined;
  let sheets = steady.sheets;
  const work = { steps: 0 };
  for (const order of ORDERS)
    for (const rule of RULES) {
      if (sheets <= least || work.steps > WORK_LIMIT) break;
      const found = fillAll(room, kinds, order, rule, mayTurn, sheets, work);
      if (found === undefined) continue;
      best = found.runs;
      sheets = found.sheets;
    }
  const runs = best ?? steady.runs();
  return { sheets, least, layouts: runs.map((run) => layoutOf(run, sheet)) };
}

/**
 * How many sheets prints take, counted so that more or larger counts never need fewer sheets: what a price that must
 * never fall is built on. At least what `nest` needs, at most what every size on sheets of its own would.
 *
 * @throws RangeError as `nest`
 */
export function steadySheets(sheet: NestSheet, prints: readonly NestPrints[], mayTurn = true): number {
  const { room, kinds } = planeOf(sheet, prints, mayTurn);
  return steadyCount(room, kinds, mayTurn, leastSheets(room, kinds, mayTurn)).sheets;
}

/** How many prints of one size a sheet holds; 0 when none fits. */
export function printsPerSheet(sheet: NestSheet, widthMm: number, heightMm: number, mayTurn = true): number {
  const room = roomOf(sheet);
  const kind = kindOf({ widthMm, heightMm, count: 1 }, sheet);
  return fits(room, kind, mayTurn) ? fillAlike(room, kind, 0, mayTurn).count : 0;
}

function planeOf(
  sheet: NestSheet,
  prints: readonly NestPrints[],
  mayTurn: boolean,
): { readonly room: Room; readonly kinds: readonly Kind[] } {
  const room = roomOf(sheet);
  const kinds = prints.map((print, index) => {
    const kind = kindOf(print, sheet);
    if (!Number.isSafeInteger(print.count) || print.count < 0)
      throw new RangeError(`prints ${index}: the count ${print.count} is not a whole number from 0 up`);
    if (!(print.widthMm > 0 && print.heightMm > 0))
      throw new RangeError(`prints ${index}: ${print.widthMm} x ${print.heightMm} mm is no size`);
    if (!fits(room, kind, mayTurn))
      throw new RangeError(
        `prints ${index}: ${print.widthMm} x ${print.heightMm} mm do not fit a sheet of ` +
          `${sheet.widthMm} x ${sheet.heightMm} mm with margins of ${sheet.marginMm} mm`,
      );
    return kind;
  });
  return { room, kinds };
}

function roomOf({ widthMm, heightMm, marginMm, gapMm }: NestSheet): Room {
  const room = (mm: number): number => Math.round((mm - 2 * marginMm + gapMm + EDGE_MM) * PER_MM);
  return { width: room(widthMm), height: room(heightMm) };
}

function kindOf({ widthMm, heightMm, count }: NestPrints, { gapMm }: NestSheet): Kind {
  return {
    width: Math.max(1, Math.round((widthMm + gapMm) * PER_MM)),
    height: Math.max(1, Math.round((heightMm + gapMm) * PER_MM)),
    count,
  };
}

function fits(room: Room, { width, height }: Kind, mayTurn: boolean): boolean {
  const upright = width <= room.width && height <= room.height;
  return upright || (mayTurn && height <= room.width && width <= room.height);
}

/** Fills sheet after sheet until nothing is left; undefined when it does not take fewer than `under`. */
function fillAll(
  room: Room,
  kinds: readonly Kind[],
  orderOf: (kind: Kind) => number,
  rule: Rule,
  mayTurn: boolean,
  under: number,
  work: { steps: number },
): { readonly sheets: number; readonly runs: readonly Run[] } | undefined {
  const order = kinds
    .map((_, index) => index)
    .sort((one, other) => orderOf(kinds[other]!) - orderOf(kinds[one]!) || one - other);
  const left = kinds.map(({ count }) => count);
  const runs: Run[] = [];
  let sheets = 0;
  while (left.some((count) => count > 0)) {
    const { blocks, used } = fillSheet(room, kinds, order, left, rule, mayTurn, work);
    let times = Number.POSITIVE_INFINITY;
    used.forEach((count, index) => {
      if (count > 0) times = Math.min(times, Math.floor(left[index]! / count));
    });
    used.forEach((count, index) => {
      left[index]! -= count * times;
    });
    sheets += times;
    if (sheets >= under) return undefined;
    runs.push({ times, blocks });
  }
  return { sheets, runs };
}

function layoutOf({ times, blocks }: Run, sheet: NestSheet): NestedSheets {
  return { times, blocks: blocks.map((block) => blockOf(block, sheet)) };
}

function blockOf(block: Block, { marginMm }: NestSheet): NestBlock {
  return {
    prints: block.kind,
    xMm: marginMm + block.x / PER_MM,
    yMm: marginMm + block.y / PER_MM,
    turned: block.turned,
    columns: block.columns,
    rows: block.rows,
  };
}
