import type { MiddlewareHandler } from 'hono';
import type { AppEnv } from '../http/env.ts';
import { ProblemError } from '../http/problem.ts';
import { findKey } from '../services/owner-key.ts';
import type { Role } from '../store/keys.ts';
import type { Store } from '../store/store.ts';

const BEARER = 'Bearer realm="owner"';
/**
 * A page opened in a browser, which can send a key only as a password. The browser also sends it when another site links
 * here; since the page only displays data, that does no harm.
 */
const PAGE_PATH = /\/owner\/plan\.html$/;
const BASIC = 'Basic realm="owner: any name, the key as password", charset="UTF-8"';

/** Requires a key of the shop in the path. */
export function ownerKey(store: Store): MiddlewareHandler<AppEnv> {
  return async (c, next) => {
    const given = c.req.header('authorization');
    const isPage = PAGE_PATH.test(c.req.path) && ['GET', 'HEAD'].includes(c.req.method);
    const headers = { 'WWW-Authenticate': isPage ? `${BASIC}, ${BEARER}` : BEARER };
    if (given === undefined)
      throw new ProblemError('missing-key', 'send a key: Authorization: Bearer pp_…', { headers });
    const key = bearerKey(given) ?? (isPage ? passwordIn(given) : undefined);
    const found = key === undefined ? undefined : await findKey(store, c.get('head').shop, key);
    if (found === undefined)
      throw new ProblemError('wrong-key', 'this is not a key of this shop', { headers });
    c.set('key', { id: found.id, name: found.name, role: found.role });
    c.header('Cache-Control', 'no-store');
    return next();
  };
}

function bearerKey(given: string): string | undefined {
  const [scheme, key, more] = given.trim().split(/\s+/);
  return scheme?.toLowerCase() === 'bearer' && more === undefined ? key : undefined;
}

/** The password of Basic authentication. @see RFC 7617 */
function passwordIn(given: string): string | undefined {
  const [, encoded] = /^\s*basic\s+([A-Za-z0-9+/=]+)\s*$/i.exec(given) ?? [];
  const pair = encoded === undefined ? '' : Buffer.from(encoded, 'base64').toString('utf8');
  const colon = pair.indexOf(':');
  return colon < 0 ? undefined : pair.slice(colon + 1);
}

/** @throws ProblemError `not-allowed` if the key has another role */
export function requireRole(role: Role, given: Role): void {
  if (given !== role)
    throw new ProblemError(
      'not-allowed',
      `a key of the ${given} may not do this; it needs one of the ${role}`,
    );
}
