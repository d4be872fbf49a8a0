import type { MiddlewareHandler } from 'hono';
import { routePath } from 'hono/route';
import type { Logger } from 'pino';
import type { AppEnv } from '../http/env.ts';
import type { Metrics } from '../metrics.ts';

const GIVEN_ID = /^[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{12}$/;

/**
 * Gives every request an id, logs one line for it and measures it. Addresses, queries and bodies are not logged: they may
 * identify a person or open their order.
 *
 * Not `hono/request-id`: it takes any word as an id, and a problem's `instance` needs a UUID.
 */
export function observe(deps: {
  readonly logger: Logger;
  readonly metrics: Metrics;
  readonly requestId: () => string;
}): MiddlewareHandler<AppEnv> {
  const { logger, metrics, requestId } = deps;
  return async (c, next) => {
    const startMs = performance.now();
    const received = c.req.header('x-request-id');
    const id = received !== undefined && GIVEN_ID.test(received) ? received.toLowerCase() : requestId();
    c.set('requestId', id);
    c.header('X-Request-Id', id);
    await next();
    const ms = performance.now() - startMs;
    const { status } = c.res;
    const route = routePath(c, -1);
    metrics.answered(c.req.method, route, status, ms / 1000);
    const line = {
      requestId: id,
      method: c.req.method,
      route,
      status,
      ms: Math.round(ms * 10) / 10,
      problem: c.get('problem'),
    };
    if (status >= 500) logger.error(line, 'answered');
    else logger.info(line, 'answered');
  };
}
