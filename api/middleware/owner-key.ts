import type { MiddlewareHandler } from 'hono';
import { findKey } from '../shop/owner-key.ts';
import type { Role } from '../store/keys.ts';
import type { Store } from '../store/store.ts';
import type { AppEnv } from './env.ts';
import { Refused } from './problem.ts';

const CHALLENGE = { 'WWW-Authenticate': 'Bearer realm="owner"' };

/** Lets through who has a key of the shop in the path. */
export function ownerKey(store: Store): MiddlewareHandler<AppEnv> {
  return async (c, next) => {
    const given = c.req.header('authorization');
    if (given === undefined)
      throw new Refused('missing-key', 'send a key: Authorization: Bearer pp_…', { headers: CHALLENGE });
    const [scheme, key, more] = given.trim().split(/\s+/);
    const found =
      scheme?.toLowerCase() === 'bearer' && key !== undefined && more === undefined
        ? await findKey(store, c.get('head').shop, key)
        : undefined;
    if (found === undefined)
      throw new Refused('wrong-key', 'this is not a key of this shop', { headers: CHALLENGE });
    c.set('key', { id: found.id, name: found.name, role: found.role });
    c.header('Cache-Control', 'no-store');
    return next();
  };
}

/** Refuses keys of another role. */
export function onlyRole(role: Role, given: Role): void {
  if (given !== role)
    throw new Refused('not-allowed', `a key of the ${given} may not do this; it needs one of the ${role}`);
}
