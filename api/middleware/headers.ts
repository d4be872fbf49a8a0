import type { MiddlewareHandler } from 'hono';
import type { AppContext, AppEnv } from '../http/env.ts';

/** What pages of other origins may send and read. */
const ALLOW_METHODS = 'GET, HEAD, POST, PUT, PATCH, DELETE';
const UPLOAD_HEADERS = 'Tus-Resumable, Upload-Length, Upload-Metadata, Upload-Offset';
const ALLOW_HEADERS = `Authorization, Content-Type, Idempotency-Key, If-Match, If-None-Match, X-Request-Id, Upload-Checksum, ${UPLOAD_HEADERS}`;
const EXPOSE_HEADERS = `Content-Location, ETag, Location, Retry-After, WWW-Authenticate, X-Request-Id, Tus-Extension, Tus-Max-Size, Tus-Version, Upload-Expires, ${UPLOAD_HEADERS}`;
const PREFLIGHT_S = '600';

/** Paths for pages of other origins: a shop's public routes, the widget's files, the API description; and the owner's. */
const OWNER_PATH = /^\/v1\/shops\/[^/]+\/owner(\/|$)/;
const SHARED_PATH = /^\/(v1|widget)\//;

/**
 * Headers of every response, including problems: security headers and CORS. No cookies are used, so any origin may be
 * allowed; the owner's routes allow none by default.
 *
 * Not `hono/cors`: it answers every OPTIONS request itself, but for uploads that is a request of the tus protocol.
 */
export function headers(deps: {
  readonly origins: '*' | readonly string[];
  readonly ownerOrigins: readonly string[];
}): MiddlewareHandler<AppEnv> {
  const origins = deps.origins === '*' ? '*' : new Set(deps.origins);
  const ownerOrigins = new Set(deps.ownerOrigins);

  /** The value of Access-Control-Allow-Origin; null: this origin may not read the answer. */
  const allowedOrigin = (c: AppContext, origin: string): string | null => {
    const { path } = c.req;
    if (OWNER_PATH.test(path)) return ownerOrigins.has(origin) ? origin : null;
    if (!SHARED_PATH.test(path)) return null;
    if (origins === '*') return '*';
    return origins.has(origin) ? origin : null;
  };

  return async (c, next) => {
    c.header('X-Content-Type-Options', 'nosniff');
    c.header('Referrer-Policy', 'no-referrer');
    c.header('Vary', 'Origin');
    const origin = c.req.header('origin');
    if (origin !== undefined) {
      const allow = allowedOrigin(c, origin);
      if (allow !== null) {
        c.header('Access-Control-Allow-Origin', allow);
        c.header('Access-Control-Expose-Headers', EXPOSE_HEADERS);
      }
      if (c.req.method === 'OPTIONS' && c.req.header('access-control-request-method') !== undefined) {
        if (allow !== null) {
          c.header('Access-Control-Allow-Methods', ALLOW_METHODS);
          c.header('Access-Control-Allow-Headers', ALLOW_HEADERS);
          c.header('Access-Control-Max-Age', PREFLIGHT_S);
        }
        return c.body(null, 204);
      }
    }
    return next();
  };
}
