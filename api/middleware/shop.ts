import { setImmediate as nextTurn } from 'node:timers/promises';
import type { MiddlewareHandler } from 'hono';
import { Id } from '../../src/contract/index.ts';
import type { AppEnv } from '../http/env.ts';
import { ProblemError } from '../http/problem.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store } from '../store/store.ts';

/**
 * Reads a shop's head once for all requests that came in the same turn of the event loop. It is read when that turn is
 * over, so that none of them is told what was true only before it came.
 */
function createHeadLoader(store: Store): (shop: string) => Promise<ShopHead | undefined> {
  const asked = new Map<string, Promise<ShopHead | undefined>>();
  const read = async (shop: string): Promise<ShopHead | undefined> => {
    await nextTurn();
    asked.delete(shop);
    return store.shops.head(shop);
  };
  return (shop) => {
    const head = asked.get(shop) ?? read(shop);
    asked.set(shop, head);
    return head;
  };
}

/** Finds the shop in the path, with the versions of what is remembered about it. */
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
