import { LRUCache } from 'lru-cache';
import { Catalog, type CompiledCatalog, compileCatalog, publicView } from '../../src/catalog/index.ts';
import { LETTERING_FONTS } from '../../src/production/index.ts';
import type { StoreParts } from '../store/store.ts';

/** A version of a catalog, ready to quote from and to show. */
export type CachedCatalog = {
  readonly compiled: CompiledCatalog;
  /** the customers' view as JSON text. */
  readonly publicBody: string;
  /** strong ETag of the owner's document, quotes included. */
  readonly etag: string;
};

/** Versions kept ready; an order may still refer to an older one. */
const MAX_CACHED = 64;

/** Catalogs as compiled. A version never changes, so what is remembered here is never stale, in no process. */
export class CatalogCache {
  readonly #entries = new LRUCache<string, CachedCatalog>({ max: MAX_CACHED });

  /** @throws Error when the version is not in the store, or was damaged there */
  async get(parts: Pick<StoreParts, 'catalogs'>, shop: string, version: number): Promise<CachedCatalog> {
    const key = `${shop} ${version}`;
    const kept = this.#entries.get(key);
    if (kept !== undefined) return kept;
    const stored = await parts.catalogs.get(shop, version);
    if (stored === undefined)
      throw new Error(`version ${version} of the catalog of shop '${shop}' is missing`);
    // Checked when it came in; parsed again, since a member added to the shape since then has its default.
    const catalog = Catalog.parse(JSON.parse(stored.body));
    const cached: CachedCatalog = {
      compiled: compileCatalog(catalog, version),
      publicBody: JSON.stringify(publicView(catalog, version, [...LETTERING_FONTS])),
      etag: `"${stored.etag}"`,
    };
    this.#entries.set(key, cached);
    return cached;
  }
}
