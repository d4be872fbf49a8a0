import type { Consumable, Driver, Method } from '../catalog/index.ts';
import type { PlacedPrint } from '../routing/work.ts';
import { type Nest, type NestPrints, type NestSheet, nest } from './nest.ts';

/** What a consumable in sheets is driven by. */
export type SheetDriver = Extract<Driver, { readonly kind: 'per-sheet' }>;

/** Copies of a print: of its line's pieces, those from `first` on. For names the copy is the entry's place in the list. */
export type Copies = { readonly print: PlacedPrint; readonly first: number; readonly count: number };

/** Prints of one size that may share sheets, and whose they are. */
export type SheetKind = NestPrints & { readonly of: readonly Copies[] };

/** A consumable in sheets as it is used for an order. */
export type SheetPlan = {
  readonly method: Method;
  readonly consumable: Consumable;
  readonly sheet: NestSheet;
  readonly sheets: number;
  /** groups of kinds that share sheets among themselves alone: one where prints gang. */
  readonly groups: readonly { readonly kinds: readonly SheetKind[]; readonly nest: Nest }[];
};

/** A print on a sheet: which, and where its upper left corner is from the sheet's. */
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
 * Prints of a method sorted for its sheets: one group of all where they gang, whatever line they are for; else a group
 * for each design and each different name. Within a group prints of one size are one kind.
 */
export function sheetGroups(driver: SheetDriver, prints: readonly PlacedPrint[]): SheetKind[][] {
  const copies = prints.map((print): Copies => ({ print, first: 0, count: print.line.pieces }));
  if (driver.gang) return [kindsOf(copies)];
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
  return [...groups.values()].map(kindsOf);
}

function kindsOf(copies: readonly Copies[]): SheetKind[] {
  const kinds: { widthMm: number; heightMm: number; count: number; of: Copies[] }[] = [];
  for (const copy of copies) {
    const { boxWidthMm: widthMm, boxHeightMm: heightMm } = copy.print.placement;
    const kind = kinds.find((other) => other.widthMm === widthMm && other.heightMm === heightMm);
    if (kind === undefined) kinds.push({ widthMm, heightMm, count: copy.count, of: [copy] });
    else {
      kind.count += copy.count;
      kind.of.push(copy);
    }
  }
  return kinds;
}

/** Lays all prints of a method in an order on each of its consumables that come in sheets. */
export function planSheets(method: Method, prints: readonly PlacedPrint[]): SheetPlan[] {
  return method.consumables.flatMap((consumable): SheetPlan[] => {
    const { driver } = consumable;
    if (driver.kind !== 'per-sheet') return [];
    const sheet = sheetOf(driver);
    const groups = sheetGroups(driver, prints).map((kinds) => ({ kinds, nest: nest(sheet, kinds) }));
    const sheets = groups.reduce((sum, group) => sum + group.nest.sheets, 0);
    return [{ method, consumable, sheet, sheets, groups }];
  });
}

/** Every sheet of a plan with the prints on it, one sheet after another. */
export function* eachSheet(plan: SheetPlan): Generator<readonly SheetPrint[]> {
  for (const { kinds, nest: laid } of plan.groups) {
    const next = kinds.map(({ of }) => copiesOf(of));
    for (const { times, blocks } of laid.layouts)
      for (let sheet = 0; sheet < times; sheet++) {
        const prints: SheetPrint[] = [];
        for (const block of blocks) {
          const { widthMm, heightMm } = kinds[block.prints]!;
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

function* copiesOf(of: readonly Copies[]): Generator<Copy, undefined> {
  for (const { print, first, count } of of)
    for (let copy = first; copy < first + count; copy++) yield { print, copy };
  return undefined;
}
