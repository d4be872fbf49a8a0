import { checkCatalog } from '../../src/catalog/index.ts';
import type { Fault } from '../../src/contract/index.ts';
import { sha256 } from '../sha256.ts';
import type { Store } from '../store/store.ts';
import { makeKey } from './owner-key.ts';

/** A new shop's first key, or why it was not created. */
export type CreatedShop =
  | { readonly kind: 'opened'; readonly key: string }
  | { readonly kind: 'there-already' }
  | { readonly kind: 'faulty'; readonly faults: readonly Fault[] };

/**
 * Creates a shop with its first catalog, its first owner's key and the secret that signs its quotes. If several processes
 * try at once, one succeeds.
 *
 * @param catalog not validated yet
 */
export async function createShop(
  store: Store,
  shop: string,
  catalog: unknown,
  deps: { readonly now: () => number; readonly randomBytes: (count: number) => Buffer },
): Promise<CreatedShop> {
  const checked = checkCatalog(catalog);
  if (checked.faults !== undefined) return { kind: 'faulty', faults: checked.faults };
  const at = new Date(deps.now()).toISOString();
  const signingKey = newSigningKey(deps.randomBytes);
  const { key, kept } = makeKey('first owner', 'owner', at, deps.randomBytes);
  const body = JSON.stringify(catalog);
  return store.write(shop, async (parts) => {
    if (!(await parts.shops.add(shop, signingKey.id, at))) return { kind: 'there-already' };
    await parts.catalogs.add(shop, {
      version: 1,
      body,
      etag: etagOf(body),
      createdAt: at,
      createdBy: kept.name,
    });
    await parts.shops.setCatalogVersion(shop, 1);
    await parts.keys.addSigningKey(shop, signingKey.id, signingKey.secret, at);
    await parts.keys.add(shop, kept);
    return { kind: 'opened', key };
  });
}

/** A new secret for signing quotes, base64url. */
export function newSigningKey(randomBytes: (count: number) => Buffer): { id: string; secret: string } {
  return { id: randomBytes(6).toString('base64url'), secret: randomBytes(32).toString('base64url') };
}

/** The ETag of a catalog, without its quotes. */
export function etagOf(body: string): string {
  return sha256(body);
}
