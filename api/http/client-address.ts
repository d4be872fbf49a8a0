import type { AppContext } from './env.ts';

/**
 * The address a request came from: the peer's, or, behind proxies we trust, the one the outermost of them saw. What
 * stands further left in X-Forwarded-For anyone can write.
 *
 * @param trustedProxies how many stand before us, each adding one entry
 */
export function clientAddress(c: AppContext, trustedProxies: number): string {
  const peer = c.env?.incoming?.socket.remoteAddress ?? 'in-process';
  if (trustedProxies === 0) return peer;
  const forwarded = (c.req.header('x-forwarded-for') ?? '')
    .split(',')
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');
  return forwarded.at(-trustedProxies) ?? forwarded[0] ?? peer;
}

/** True for a request from this very machine that no proxy handed on. */
export function isLocal(c: AppContext): boolean {
  const peer = c.env?.incoming?.socket.remoteAddress;
  const handedOn = ['x-forwarded-for', 'forwarded', 'via', 'x-real-ip'].some(
    (name) => c.req.header(name) !== undefined,
  );
  return !handedOn && peer !== undefined && /^(::1|(::ffff:)?127\.\d+\.\d+\.\d+)$/.test(peer);
}
