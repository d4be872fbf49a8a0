import type { AppDeps } from '../deps.ts';
import type { RouteBook } from '../http/route-book.ts';
import type { UploadGate } from '../http/upload.ts';
import type { Metrics } from '../metrics.ts';
import type { ArtworkService } from '../services/artworks.ts';
import type { CatalogCache } from '../services/catalog-cache.ts';
import type { FloorService } from '../services/floor.ts';
import type { OrderService } from '../services/orders.ts';
import type { QuoteService } from '../services/quotes.ts';

/** What every group of routes gets. */
export type RouteContext = {
  readonly deps: AppDeps;
  readonly book: RouteBook;
  readonly metrics: Metrics;
  readonly catalogs: CatalogCache;
  readonly artworks: ArtworkService;
  /** runs whatever holds a whole file in memory. */
  readonly gate: UploadGate;
  readonly quotes: QuoteService;
  readonly orders: OrderService;
  readonly floor: FloorService;
};

/** Address of a shop's routes. */
export const SHOP = '/v1/shops/{shop}';

/** The same address in answers. */
export function shopBase(shop: string): string {
  return `/v1/shops/${shop}`;
}
