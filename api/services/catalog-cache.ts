import { LRUCache } from 'lru-cache';
import { Catalog, type CompiledCatalog, compileCatalog, publicView } from '../../src/catalog/index.ts';
import { LETTERING_FONTS } from '../../src/production/index.ts';
import type { StoreParts } from '../store/store.ts';

/** A version of a catalog, compiled for quoting and serialized for customers. */
export type CachedCatalog = {
  readonly compiled: CompiledCatalog;
  /** JSON text of the customers' view. */
  readonly publicBody: string;
  /** strong ETag of the owner's document, with its quotes. */
  readonly etag: string;
};

/** Versions in the cache; orders refer to older ones, too. */
const MAX_CACHED = 64;

/** Caches compiled catalogs. A version never changes, so an entry is never stale. */
export class CatalogCache {
  readonly #entries = new LRUCache<string, CachedCatalog>({ max: MAX_CACHED });

  /** @throws Error if the version is missing in the store or damaged */
  async get(parts: Pick<StoreParts, 'catalogs'>, shop: string, version: number): Promise<CachedCatalog> {
    const key = `${shop} ${version}`;
    const hit = this.#entries.get(key);
    if (hit !== undefined) return hit;
    const stored = await parts.catalogs.get(shop, version);
    if (stored === undefined)
      throw new Error(`version ${version} of the catalog of shop '${shop}' is missing`);
    // It was validated when it came in. Parsing again fills in members added to the schema since then.
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
