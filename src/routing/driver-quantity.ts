import type { Driver } from '../catalog/index.ts';
import type { RoutedPlacement } from './routed.ts';

const CM2_PER_M2 = 10_000;

/**
 * How much of a consumable is used, in the unit it is priced in: for each print; for each piece, however many prints of
 * the method are on it; or in whole sheets, which are counted for all prints of the method together (pricing/sheets.ts).
 */
export type DriverQuantity =
  | { readonly per: 'print' | 'piece'; readonly quantity: number }
  | { readonly per: 'sheet' };

/** The quantity a driver gives for one print. The bill of cost and the choice of methods both use it. */
export function driverQuantity(
  driver: Driver,
  placement: Pick<RoutedPlacement, 'boxWidthMm' | 'boxHeightMm' | 'ink'>,
): DriverQuantity {
  switch (driver.kind) {
    case 'per-piece':
      return { per: 'piece', quantity: Number(driver.quantity) };
    case 'per-print':
      return { per: 'print', quantity: Number(driver.quantity) };
    case 'per-area': {
      const widthMm = placement.boxWidthMm + 2 * driver.marginMm;
      const heightMm = placement.boxHeightMm + 2 * driver.marginMm;
      return { per: 'print', quantity: (Number(driver.perCm2) * widthMm * heightMm) / 100 };
    }
    case 'per-ink': {
      const ml = (Number(driver.laydownMlPerM2) * placement.ink[driver.channel]) / CM2_PER_M2;
      return { per: 'print', quantity: ml };
    }
    case 'per-sheet':
      return { per: 'sheet' };
  }
}
