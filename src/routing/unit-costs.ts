import type { Catalog, Method, Station, Step } from '../catalog/index.ts';

/** Millionths of the currency's unit in one unit. */
export const MICRO = 1e6;

/** Prices of a recipe as numbers, for comparing methods; money that is billed is worked out with decimals. */
export type RecipeNumbers = {
  /** millionths per piece that has any print of the method. */
  readonly perPiece: number;
  readonly perPrint: number;
  readonly perArea: readonly { readonly perCm2: number; readonly marginMm: number }[];
  /** millionths per cm² at full coverage, by channel. */
  readonly ink: {
    readonly c: number;
    readonly m: number;
    readonly y: number;
    readonly k: number;
    readonly w: number;
  };
  readonly sheets: readonly {
    readonly id: string;
    readonly price: number;
    readonly widthMm: number;
    readonly heightMm: number;
    readonly gapMm: number;
    readonly gang: boolean;
  }[];
  /** pieces made for every good one. */
  readonly more: number;
};

const recipes = new WeakMap<Method, RecipeNumbers>();

/** The recipe of a method as numbers, worked out once. */
export function recipeNumbers(method: Method): RecipeNumbers {
  let numbers = recipes.get(method);
  if (numbers === undefined) {
    numbers = work(method);
    recipes.set(method, numbers);
  }
  return numbers;
}

function work(method: Method): RecipeNumbers {
  let perPiece = 0;
  let perPrint = 0;
  const perArea: { perCm2: number; marginMm: number }[] = [];
  const ink = { c: 0, m: 0, y: 0, k: 0, w: 0 };
  const sheets: RecipeNumbers['sheets'][number][] = [];
  for (const { id, price, driver } of method.consumables) {
    const micro = Number(price) * MICRO;
    switch (driver.kind) {
      case 'per-piece':
        perPiece += micro * Number(driver.quantity);
        break;
      case 'per-print':
        perPrint += micro * Number(driver.quantity);
        break;
      case 'per-area':
        perArea.push({ perCm2: micro * Number(driver.perCm2), marginMm: driver.marginMm });
        break;
      case 'per-ink':
        // 10,000 cm² are a m².
        ink[driver.channel] += (micro * Number(driver.laydownMlPerM2)) / 10_000;
        break;
      case 'per-sheet':
        sheets.push({
          id,
          price: micro,
          widthMm: driver.sheetWidthMm - 2 * driver.marginMm,
          heightMm: driver.sheetHeightMm - 2 * driver.marginMm,
          gapMm: driver.gapMm,
          gang: driver.gang,
        });
        break;
    }
  }
  return { perPiece, perPrint, perArea, ink, sheets, more: 1 + Number(method.spoilage) };
}

/** Millionths a second of a step costs, running and being set up: the station's rate and the share of a wage. */
export function secondCosts(
  step: Step,
  station: Station,
  catalog: Catalog,
): readonly [run: number, setUp: number] {
  const rate = (Number(station.ratePerHour) * MICRO) / 3600;
  const wage = (Number(catalog.crew.wagePerHour) * MICRO) / 3600;
  return [rate + wage * step.crewShare, rate + wage * step.setUpCrewShare];
}
