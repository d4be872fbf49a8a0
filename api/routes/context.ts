import type { AppDeps } from '../deps.ts';
import type { Metrics } from '../metrics.ts';
import type { UploadGate } from '../middleware/upload.ts';
import type { ArtworkShelf } from '../shop/artwork-shelf.ts';
import type { FloorDesk } from '../shop/floor-desk.ts';
import type { LiveCatalogs } from '../shop/live-catalogs.ts';
import type { OrderDesk } from '../shop/order-desk.ts';
import type { QuoteDesk } from '../shop/quote-desk.ts';
import type { RouteBook } from './define.ts';

/** What routes are made of. */
export type RouteContext = {
  readonly deps: AppDeps;
  readonly book: RouteBook;
  readonly metrics: Metrics;
  readonly catalogs: LiveCatalogs;
  readonly shelf: ArtworkShelf;
  /** what holds a whole file in memory passes it. */
  readonly gate: UploadGate;
  readonly quotes: QuoteDesk;
  readonly orders: OrderDesk;
  readonly floor: FloorDesk;
};

/** Address of a shop's routes. */
export const SHOP = '/v1/shops/{shop}';

/** Address of a shop's routes as answers give it. */
export function shopBase(shop: string): string {
  return `/v1/shops/${shop}`;
}
