import { setImmediate as nextTurn } from 'node:timers/promises';
import type { MiddlewareHandler } from 'hono';
import { Id } from '../../src/contract/index.ts';
import type { AppEnv } from '../http/env.ts';
import { ProblemError } from '../http/problem.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store } from '../store/store.ts';

/**
 * Batches lookups of a shop within one turn of the event loop (the data loader pattern). The store is read after that
 * turn, so that no request gets a state from before it arrived.
 */
function createHeadLoader(store: Store): (shop: string) => Promise<ShopHead | undefined> {
  const pending = new Map<string, Promise<ShopHead | undefined>>();
  const read = async (shop: string): Promise<ShopHead | undefined> => {
    await nextTurn();
    pending.delete(shop);
    return store.shops.head(shop);
  };
  return (shop) => {
    const head = pending.get(shop) ?? read(shop);
    pending.set(shop, head);
    return head;
  };
}

/** Looks up the shop in the path, with the versions of what is cached for it. */
export function shopInPath(store: Store): MiddlewareHandler<AppEnv> {
  const headOf = createHeadLoader(store);
  return async (c, next) => {
    const shop = c.req.param('shop') ?? '';
    const head = Id.safeParse(shop).success ? await headOf(shop) : undefined;
    if (head === undefined)
      throw new ProblemError('unknown-shop', `there is no shop "${shop.slice(0, 80)}" here`);
    c.set('head', head);
    return next();
  };
}
