import { createHmac, createSecretKey, type KeyObject, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';

/** What a signed quote vouches for: which slip, at what price, for which day, made how. Seconds are epoch seconds. */
export const QuoteClaims = z.strictObject({
  /** the shop that signed. */
  iss: z.string(),
  /** hash of the slip. */
  slip: z.string(),
  currency: z.string(),
  total: z.string(),
  day: z.string(),
  /** version of the catalog it was quoted from. */
  catalog: z.int(),
  /** hash of the methods and treatments chosen. */
  route: z.string(),
  iat: z.int(),
  exp: z.int(),
});
export type QuoteClaims = z.infer<typeof QuoteClaims>;

/** A key quotes are signed with. */
export type SigningKey = { readonly id: string; readonly secret: KeyObject; readonly header: string };

const KEY_ID = /^[A-Za-z0-9_-]{1,32}$/;

/** @param secret base64url, 32 bytes */
export function signingKey(id: string, secret: string): SigningKey {
  return {
    id,
    secret: createSecretKey(Buffer.from(secret, 'base64url')),
    header: base64url(JSON.stringify({ alg: 'HS256', kid: id, typ: 'JWT' })),
  };
}

/**
 * A JWS in compact form, HS256. Made with node:crypto, which signs at once; WebCrypto, that libraries use, takes a turn
 * of the event loop for each.
 *
 * @see RFC 7515, 3.1 and 7.1
 */
export function signQuote(claims: QuoteClaims, key: SigningKey): string {
  const signed = `${key.header}.${base64url(JSON.stringify(claims))}`;
  return `${signed}.${createHmac('sha256', key.secret).update(signed).digest('base64url')}`;
}

/** The id of the key a token says it was signed with, or null when it is no token of ours. */
export function keyIdOf(token: string): string | null {
  const [head] = token.split('.', 1);
  if (head === undefined || head.length > 200) return null;
  try {
    const header: unknown = JSON.parse(Buffer.from(head, 'base64url').toString('utf8'));
    if (typeof header !== 'object' || header === null || !('kid' in header)) return null;
    const { kid } = header;
    return typeof kid === 'string' && KEY_ID.test(kid) ? kid : null;
  } catch {
    return null;
  }
}

/**
 * What a token vouches for, or null when it was not signed so with this key. Its header must be the very one this key
 * writes: there is no algorithm to choose. Whether it has expired is for the caller to see.
 */
export function verifyQuote(token: string, key: SigningKey): QuoteClaims | null {
  const parts = token.split('.');
  const [header, payload, signature] = parts;
  if (parts.length !== 3 || header !== key.header || payload === undefined || signature === undefined)
    return null;
  const expected = createHmac('sha256', key.secret).update(`${header}.${payload}`).digest();
  const given = Buffer.from(signature, 'base64url');
  if (given.length !== expected.length || !timingSafeEqual(given, expected)) return null;
  const claims = QuoteClaims.safeParse(JSON.parse(Buffer.from(payload, 'base64url').toString('utf8')));
  return claims.success ? claims.data : null;
}

function base64url(text: string): string {
  return Buffer.from(text).toString('base64url');
}
