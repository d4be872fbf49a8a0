import type { Consumable, Driver, Method } from '../catalog/index.ts';
import type { PlacedPrint } from '../routing/work.ts';
import { type Nest, type NestPrints, type NestSheet, nest } from './nest.ts';

/** The cost driver of a consumable that comes in sheets. */
export type SheetDriver = Extract<Driver, { readonly kind: 'per-sheet' }>;

/**
 * A range of a print's copies, one copy for each piece of its line. For names, the number of a copy is the index of the
 * entry in the list.
 */
export type Copies = { readonly print: PlacedPrint; readonly first: number; readonly count: number };

/** Prints of one size that may share sheets, and which they are. */
export type SizeGroup = NestPrints & { readonly copies: readonly Copies[] };

/** How an order uses a consumable that comes in sheets. */
export type SheetPlan = {
  readonly method: Method;
  readonly consumable: Consumable;
  readonly sheet: NestSheet;
  readonly sheets: number;
  /** prints of one group share sheets with each other only; a single group if prints are ganged. */
  readonly groups: readonly { readonly sizes: readonly SizeGroup[]; readonly nest: Nest }[];
};

/** One copy of a print on a sheet, placed by its upper left corner, from the upper left corner of the sheet. */
export type SheetPrint = {
  readonly print: PlacedPrint;
  readonly copy: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly turned: boolean;
};

/** The sheet of a driver. */
export function sheetOf(driver: SheetDriver): NestSheet {
  return {
    widthMm: driver.sheetWidthMm,
    heightMm: driver.sheetHeightMm,
    marginMm: driver.marginMm,
    gapMm: driver.gapMm,
  };
}

/**
 * The prints of a method, grouped by which may share sheets: one group across all lines if they are ganged, otherwise a
 * group for each design and each different name. Within a group, prints are grouped by size.
 */
export function sheetGroups(driver: SheetDriver, prints: readonly PlacedPrint[]): SizeGroup[][] {
  const copies = prints.map((print): Copies => ({ print, first: 0, count: print.line.pieces }));
  if (driver.gang) return [sizesOf(copies)];
  const groups = new Map<string, Copies[]>();
  const add = (key: string, copy: Copies): void => {
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [copy]);
    else group.push(copy);
  };
  for (const copy of copies) {
    const { placement, line } = copy.print;
    const { names } = line.line;
    if (names?.id !== placement.id) add(placement.design, copy);
    else
      names.entries.forEach(({ text }, first) => {
        add(`${placement.design} ${text}`, { print: copy.print, first, count: 1 });
      });
  }
  return [...groups.values()].map(sizesOf);
}

function sizesOf(all: readonly Copies[]): SizeGroup[] {
  const sizes: { widthMm: number; heightMm: number; count: number; copies: Copies[] }[] = [];
  for (const copies of all) {
    const { boxWidthMm: widthMm, boxHeightMm: heightMm } = copies.print.placement;
    const size = sizes.find((other) => other.widthMm === widthMm && other.heightMm === heightMm);
    if (size === undefined) sizes.push({ widthMm, heightMm, count: copies.count, copies: [copies] });
    else {
      size.count += copies.count;
      size.copies.push(copies);
    }
  }
  return sizes;
}

/** Nests all prints of a method in an order, for each of its consumables that come in sheets. */
export function planSheets(method: Method, prints: readonly PlacedPrint[]): SheetPlan[] {
  return method.consumables.flatMap((consumable): SheetPlan[] => {
    const { driver } = consumable;
    if (driver.kind !== 'per-sheet') return [];
    const sheet = sheetOf(driver);
    const groups = sheetGroups(driver, prints).map((sizes) => ({ sizes, nest: nest(sheet, sizes) }));
    const sheets = groups.reduce((sum, group) => sum + group.nest.sheets, 0);
    return [{ method, consumable, sheet, sheets, groups }];
  });
}

/** Yields the prints on each sheet of a plan. */
export function* eachSheet(plan: SheetPlan): Generator<readonly SheetPrint[]> {
  for (const { sizes, nest: nested } of plan.groups) {
    const next = sizes.map(({ copies }) => eachCopy(copies));
    for (const { times, blocks } of nested.layouts)
      for (let sheet = 0; sheet < times; sheet++) {
        const prints: SheetPrint[] = [];
        for (const block of blocks) {
          const { widthMm, heightMm } = sizes[block.prints]!;
          const acrossMm = (block.turned ? heightMm : widthMm) + plan.sheet.gapMm;
          const downMm = (block.turned ? widthMm : heightMm) + plan.sheet.gapMm;
          for (let row = 0; row < block.rows; row++)
            for (let column = 0; column < block.columns; column++) {
              const { print, copy } = next[block.prints]!.next().value!;
              const xMm = block.xMm + column * acrossMm;
              const yMm = block.yMm + row * downMm;
              prints.push({ print, copy, xMm, yMm, turned: block.turned });
            }
        }
        yield prints;
      }
  }
}

type Copy = { readonly print: PlacedPrint; readonly copy: number };

function* eachCopy(copies: readonly Copies[]): Generator<Copy, undefined> {
  for (const { print, first, count } of copies)
    for (let copy = first; copy < first + count; copy++) yield { print, copy };
  return undefined;
}
