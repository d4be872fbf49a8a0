import type { AppDeps } from '../deps.ts';
import type { Metrics } from '../metrics.ts';
import type { UploadGate } from '../http/upload.ts';
import type { ArtworkShelf } from '../services/artworks.ts';
import type { FloorDesk } from '../services/floor.ts';
import type { LiveCatalogs } from '../services/catalog-cache.ts';
import type { OrderDesk } from '../services/orders.ts';
import type { QuoteDesk } from '../services/quotes.ts';
import type { RouteBook } from '../http/route-book.ts';

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
