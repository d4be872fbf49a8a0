import { checkCatalog, compileCatalog } from '../../src/catalog/index.ts';
import type { Fault } from '../../src/contract/index.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store } from '../store/store.ts';
import { etagOf } from './create-shop.ts';
import type { FloorService, PlanChange } from './floor.ts';

/** What became of a catalog sent by its owner. */
export type CatalogReplacement =
  | { readonly kind: 'in-force'; readonly version: number; readonly etag: string; readonly plan: PlanChange }
  | { readonly kind: 'faulty'; readonly faults: readonly Fault[] }
  /** another version came first; this is its ETag. */
  | { readonly kind: 'changed'; readonly etag: string };

/**
 * Puts a catalog in force and replans for its hours in the same transaction, so that no order is ever booked on outdated
 * hours.
 *
 * @param isMeant whether the owner means to replace the version with this ETag
 */
export async function replaceCatalog(
  deps: { readonly store: Store; readonly floor: FloorService; readonly now: () => number },
  shop: string,
  input: unknown,
  by: string,
  isMeant: (etag: string) => boolean,
): Promise<CatalogReplacement> {
  const checked = checkCatalog(input);
  const body = JSON.stringify(input);
  return deps.store.write(shop, async (parts) => {
    const head = (await parts.shops.head(shop)) as ShopHead;
    const current = await parts.catalogs.get(shop, head.catalogVersion);
    const before = `"${current?.etag ?? ''}"`;
    if (!isMeant(before)) return { kind: 'changed', etag: before };
    if (checked.faults !== undefined) return { kind: 'faulty', faults: checked.faults };
    const version = head.catalogVersion + 1;
    const plan = await deps.floor.replanForCatalog(parts, shop, compileCatalog(checked.catalog, version));
    if ('stranded' in plan) {
      const places = new Map(
        plan.stranded.map(({ station, unit }) => [`${station} ${unit}`, { station, unit }]),
      );
      return {
        kind: 'faulty',
        faults: [...places.values()].map(({ station, unit }) => ({
          at: 'stations',
          message: `orders are booked on unit ${unit} of station "${station}"`,
          value: station,
          allowed: `at least ${unit + 1} of it until that work is done`,
        })),
      };
    }
    const etag = etagOf(body);
    await parts.catalogs.add(shop, {
      version,
      body,
      etag,
      createdAt: new Date(deps.now()).toISOString(),
      createdBy: by,
    });
    await parts.shops.setCatalogVersion(shop, version);
    return { kind: 'in-force', version, etag: `"${etag}"`, plan };
  });
}
