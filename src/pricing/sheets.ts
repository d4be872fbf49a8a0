import type { Consumable, Method } from '../catalog/index.ts';
import { monotoneSheets, type NestPrints, type NestSheet, nest } from '../production/nest.ts';
import { type SheetDriver, sheetGroups, sheetOf } from '../production/sheet-plan.ts';
import type { PlacedPrint, SheetsOf } from '../routing/work.ts';
import { TextCache } from '../text-cache.ts';

/** Whole sheets of one consumable for all prints of a method in an order. */
export type SheetUse = { readonly consumable: Consumable; readonly sheets: number };

/** Counts the sheets some prints take. */
export type SheetCount = (sheet: NestSheet, prints: readonly NestPrints[]) => number;

/** Sheets as they are really nested. */
export const byNesting: SheetCount = remembered((sheet, prints) => nest(sheet, prints).sheets);

/** Sheets counted so that more prints never need fewer. */
export const bySteadyCount: SheetCount = remembered((sheet, prints) => monotoneSheets(sheet, prints));

/**
 * Whole sheets a method needs for all its prints of an order, really nested together where the sheets gang; of the
 * first consumable that comes in sheets, 0 where none does.
 */
export const nestedSheets: SheetsOf = (method, prints) => firstSheets(method, prints, byNesting);

/** As `nestedSheets`, counted so that more prints never need fewer sheets. */
export const steadySheetsOf: SheetsOf = (method, prints) => firstSheets(method, prints, bySteadyCount);

/** Sheets of the first consumable of a method that comes in sheets; 0 where none does. */
function firstSheets(method: Method, prints: readonly PlacedPrint[], count: SheetCount): number {
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
  const sheet = sheetOf(driver);
  let sheets = 0;
  for (const kinds of sheetGroups(driver, prints)) sheets += count(sheet, kinds);
  return sheets;
}

/** While methods are compared, a quote asks for the same sheets many times. */
function remembered(count: SheetCount): SheetCount {
  const answers = new TextCache<number>(2_000);
  return (sheet, prints) => {
    let key = `${sheet.widthMm} ${sheet.heightMm} ${sheet.marginMm} ${sheet.gapMm}`;
    for (const print of prints) key += ` ${print.widthMm} ${print.heightMm} ${print.count}`;
    return answers.get(key, () => count(sheet, prints));
  };
}
