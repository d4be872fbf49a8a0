import type { MiddlewareHandler } from 'hono';
import { Id } from '../../src/contract/index.ts';
import type { Store } from '../store/store.ts';
import type { AppEnv } from './env.ts';
import { Refused } from './problem.ts';

/** Finds the shop in the path, with the versions of what is remembered about it. */
export function shopInPath(store: Store): MiddlewareHandler<AppEnv> {
  return async (c, next) => {
    const shop = c.req.param('shop') ?? '';
    const head = Id.safeParse(shop).success ? await store.shops.head(shop) : undefined;
    if (head === undefined) throw new Refused('unknown-shop', `there is no shop "${shop.slice(0, 80)}" here`);
    c.set('head', head);
    return next();
  };
}
