import { CompactSign, type CryptoKey, compactVerify, decodeProtectedHeader } from 'jose';
import { z } from 'zod';

/** What a signed quote promises: slip, price, day and methods. Times are epoch seconds. */
export const QuoteClaims = z.strictObject({
  /** the shop that signed it. */
  iss: z.string(),
  /** hash of the slip. */
  slip: z.string(),
  currency: z.string(),
  total: z.string(),
  day: z.string(),
  /** version of the catalog it was quoted from. */
  catalog: z.int(),
  /** hash of the chosen methods and treatments. */
  route: z.string(),
  iat: z.int(),
  exp: z.int(),
});
export type QuoteClaims = z.infer<typeof QuoteClaims>;

/** A key that signs quotes. */
export type SigningKey = { readonly id: string; readonly secret: CryptoKey };

const KEY_ID = /^[A-Za-z0-9_-]{1,32}$/;
/** Longer tokens are refused unread; ours have about 500 characters. */
const MAX_TOKEN_CHARS = 4_000;

/**
 * Imports a secret once. Given bytes, the library imports them for every signature, which takes longer than signing.
 *
 * @param secret base64url, 32 bytes
 */
export async function signingKey(id: string, secret: string): Promise<SigningKey> {
  const hmac = { name: 'HMAC', hash: 'SHA-256' };
  const bytes = Buffer.from(secret, 'base64url');
  return { id, secret: await crypto.subtle.importKey('raw', bytes, hmac, false, ['sign', 'verify']) };
}

/** A JWS in compact form, HS256. @see RFC 7515, 3.1 and 7.1 */
export function signQuote(claims: QuoteClaims, key: SigningKey): Promise<string> {
  return new CompactSign(Buffer.from(JSON.stringify(claims)))
    .setProtectedHeader({ alg: 'HS256', kid: key.id, typ: 'JWT' })
    .sign(key.secret);
}

/** The id of the key that a token names; null if this is not one of our tokens. */
export function keyIdOf(token: string): string | null {
  if (token.length > MAX_TOKEN_CHARS) return null;
  try {
    const { kid } = decodeProtectedHeader(token);
    return kid !== undefined && KEY_ID.test(kid) ? kid : null;
  } catch {
    return null;
  }
}

/**
 * The claims of a token; null if this key did not sign them with HS256, whatever the token's header says. The caller checks
 * whether it has expired.
 */
export async function verifyQuote(token: string, key: SigningKey): Promise<QuoteClaims | null> {
  if (keyIdOf(token) !== key.id) return null;
  try {
    const { payload } = await compactVerify(token, key.secret, { algorithms: ['HS256'] });
    const claims = QuoteClaims.safeParse(JSON.parse(Buffer.from(payload).toString('utf8')));
    return claims.success ? claims.data : null;
  } catch {
    return null;
  }
}
