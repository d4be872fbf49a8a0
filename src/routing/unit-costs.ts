import type { Catalog, Driver, Method, Station, Step } from '../catalog/index.ts';
import { memoByKey } from '../memo-by-key.ts';

/** Millionths of the currency's unit in one unit. */
export const MICRO = 1e6;

/** Prices of a recipe as numbers, for comparing methods. Amounts on a bill are exact instead (pricing/amounts.ts). */
export type RecipeCosts = {
  /** price in millionths per unit of the driver's quantity. */
  readonly consumables: readonly { readonly driver: Driver; readonly price: number }[];
  /** consumables in whole sheets, with the area that can be printed on. */
  readonly sheets: readonly SheetCost[];
};

/** A sheet with its price in millionths. */
export type SheetCost = {
  readonly id: string;
  readonly price: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly gapMm: number;
  readonly gang: boolean;
};

/** The prices of a method's recipe. */
export const recipeCosts = memoByKey(
  ({ consumables }: Method): RecipeCosts => ({
    consumables: consumables.map(({ price, driver }) => ({ driver, price: Number(price) * MICRO })),
    sheets: consumables.flatMap(({ id, price, driver }) =>
      driver.kind === 'per-sheet'
        ? [
            {
              id,
              price: Number(price) * MICRO,
              widthMm: driver.sheetWidthMm - 2 * driver.marginMm,
              heightMm: driver.sheetHeightMm - 2 * driver.marginMm,
              gapMm: driver.gapMm,
              gang: driver.gang,
            },
          ]
        : [],
    ),
  }),
);

/** Millionths a second of a step costs while it runs and while it is set up: the station's rate and the share of a wage. */
export function secondCosts(
  step: Step,
  station: Station,
  catalog: Catalog,
): readonly [run: number, setUp: number] {
  const rate = (Number(station.ratePerHour) * MICRO) / 3600;
  const wage = (Number(catalog.crew.wagePerHour) * MICRO) / 3600;
  return [rate + wage * step.crewShare, rate + wage * step.setUpCrewShare];
}
