import type { Consumable, Driver, Method } from '../catalog/index.ts';
import { type NestPrints, type NestSheet, nest, steadySheets } from '../production/nest.ts';
import type { PlacedPrint, SheetsOf } from '../routing/work.ts';

type SheetDriver = Extract<Driver, { readonly kind: 'per-sheet' }>;

/** Whole sheets of one consumable for all prints of a method in an order. */
export type SheetUse = { readonly consumable: Consumable; readonly sheets: number };

/** Counts the sheets some prints take. */
export type SheetCount = (sheet: NestSheet, prints: readonly NestPrints[]) => number;

/** Sheets as they are really nested. */
export const byNesting: SheetCount = remembered((sheet, prints) => nest(sheet, prints).sheets);

/** Sheets counted so that more prints never need fewer. */
export const bySteadyCount: SheetCount = remembered((sheet, prints) => steadySheets(sheet, prints));

/**
 * Whole sheets a method needs for all its prints of an order, really nested together where the sheets gang; of the
 * first consumable that comes in sheets, 0 where none does.
 */
export const nestedSheets: SheetsOf = (method, prints) => firstSheets(method, prints, byNesting);

/** As `nestedSheets`, counted so that more prints never need fewer sheets. */
export const steadySheetsOf: SheetsOf = (method, prints) => firstSheets(method, prints, bySteadyCount);

/** Sheets of the first consumable of a method that comes in sheets; 0 where none does. */
export function firstSheets(method: Method, prints: readonly PlacedPrint[], count: SheetCount): number {
  for (const { driver } of method.consumables)
    if (driver.kind === 'per-sheet') return sheetsOf(driver, prints, count);
  return 0;
}

/** Sheets of every consumable of a method that comes in sheets. */
export function sheetUses(method: Method, prints: readonly PlacedPrint[], count: SheetCount): SheetUse[] {
  const uses: SheetUse[] = [];
  for (const consumable of method.consumables)
    if (consumable.driver.kind === 'per-sheet')
      uses.push({ consumable, sheets: sheetsOf(consumable.driver, prints, count) });
  return uses;
}

function sheetsOf(driver: SheetDriver, prints: readonly PlacedPrint[], count: SheetCount): number {
  const sheet: NestSheet = {
    widthMm: driver.sheetWidthMm,
    heightMm: driver.sheetHeightMm,
    marginMm: driver.marginMm,
    gapMm: driver.gapMm,
  };
  if (driver.gang)
    return count(sheet, alikeTogether(prints.map((print) => sizeOf(print, print.line.pieces))));
  let sheets = 0;
  for (const like of byDesign(prints)) sheets += count(sheet, [like]);
  return sheets;
}

function sizeOf({ placement }: PlacedPrint, count: number): NestPrints {
  return { widthMm: placement.boxWidthMm, heightMm: placement.boxHeightMm, count };
}

/** Prints of one size are one kind, whichever line they are for. */
function alikeTogether(prints: readonly NestPrints[]): NestPrints[] {
  const kinds: NestPrints[] = [];
  for (const print of prints) {
    const same = kinds.findIndex(
      ({ widthMm, heightMm }) => widthMm === print.widthMm && heightMm === print.heightMm,
    );
    if (same < 0) kinds.push(print);
    else kinds[same] = { ...print, count: print.count + kinds[same]!.count };
  }
  return kinds;
}

/** Where prints of different designs may not share a sheet: each design, and each different name, by itself. */
function byDesign(prints: readonly PlacedPrint[]): NestPrints[] {
  const designs = new Map<string, NestPrints>();
  const add = (key: string, print: PlacedPrint, count: number): void => {
    designs.set(key, sizeOf(print, (designs.get(key)?.count ?? 0) + count));
  };
  for (const print of prints) {
    const { placement, line } = print;
    const { names } = line.line;
    if (names?.id !== placement.id) add(placement.design, print, line.pieces);
    else for (const { text } of names.entries) add(`${placement.design} ${text}`, print, 1);
  }
  return [...designs.values()];
}

/** Answers kept: quotes of one slip ask for the same sheets many times while methods are compared. */
const REMEMBERED_MOST = 2_000;

function remembered(count: SheetCount): SheetCount {
  const answers = new Map<string, number>();
  return (sheet, prints) => {
    let key = `${sheet.widthMm} ${sheet.heightMm} ${sheet.marginMm} ${sheet.gapMm}`;
    for (const print of prints) key += ` ${print.widthMm} ${print.heightMm} ${print.count}`;
    let answer = answers.get(key);
    if (answer === undefined) {
      answer = count(sheet, prints);
      if (answers.size >= REMEMBERED_MOST) answers.delete(answers.keys().next().value!);
      answers.set(key, answer);
    }
    return answer;
  };
}
