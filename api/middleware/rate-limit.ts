import type { MiddlewareHandler } from 'hono';
import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';
import type { Limits } from '../deps.ts';
import { clientAddress } from '../http/client-address.ts';
import type { AppEnv } from '../http/env.ts';
import { ProblemError } from '../http/problem.ts';

/**
 * Limits requests per address. Each process counts for itself, so several together allow that many times more: this is
 * against mistakes and floods, not a quota.
 */
export function rateLimit(deps: {
  readonly limits: Limits;
  readonly trustedProxies: number;
}): MiddlewareHandler<AppEnv> {
  const { perMinute } = deps.limits;
  if (perMinute === null) return (_, next) => next();
  const limiter = (points: number): RateLimiterMemory => new RateLimiterMemory({ points, duration: 60 });
  const files = limiter(perMinute.files);
  const orders = limiter(perMinute.orders);
  const others = limiter(perMinute.others);
  return async (c, next) => {
    const { method, path } = c.req;
    const isPost = method === 'POST';
    const chosen =
      isPost && /\/(artworks|uploads|mended|proofs)$/.test(path)
        ? files
        : isPost && path.endsWith('/orders')
          ? orders
          : others;
    try {
      await chosen.consume(clientAddress(c, deps.trustedProxies));
    } catch (refusal) {
      if (!(refusal instanceof RateLimiterRes)) throw refusal;
      const seconds = Math.max(1, Math.ceil(refusal.msBeforeNext / 1000));
      throw new ProblemError(
        'too-many-requests',
        `at most ${chosen.points} such requests a minute; try in ${seconds} s`,
        {
          headers: { 'Retry-After': String(seconds) },
          members: { limit: chosen.points, retryAfterS: seconds },
        },
      );
    }
    return next();
  };
}
