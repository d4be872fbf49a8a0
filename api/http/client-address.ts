import type { AppContext } from './env.ts';

/**
 * The client's address: the peer's, or behind trusted proxies the one that the outermost of them saw. Entries further left
 * in X-Forwarded-For can be forged.
 *
 * @param trustedProxies number of proxies in front of us, each adding one entry
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

/** True for a request from this machine that no proxy forwarded. */
export function isLocal(c: AppContext): boolean {
  const peer = c.env?.incoming?.socket.remoteAddress;
  const forwarded = ['x-forwarded-for', 'forwarded', 'via', 'x-real-ip'].some(
    (name) => c.req.header(name) !== undefined,
  );
  return !forwarded && peer !== undefined && /^(::1|(::ffff:)?127\.\d+\.\d+\.\d+)$/.test(peer);
}
