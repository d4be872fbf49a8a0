import { randomBytes } from 'node:crypto';
import { decodeProtectedHeader, jwtVerify, SignJWT } from 'jose';
import { describe, expect, it } from 'vitest';
import {
  keyIdOf,
  type QuoteClaims,
  signingKey,
  signQuote,
  verifyQuote,
} from '../../../api/services/quote-token.ts';

const secret = randomBytes(32);
const key = await signingKey('k1', secret.toString('base64url'));
const claims: QuoteClaims = {
  iss: 'a-shop',
  slip: 'a'.repeat(64),
  currency: 'USD',
  total: '64.35',
  day: '2026-03-02',
  catalog: 3,
  route: 'b'.repeat(64),
  iat: 1_772_000_000,
  exp: 1_772_003_600,
};

describe('a signed quote', () => {
  it('is a JWT that another library can verify and sign', async () => {
    const token = await signQuote(claims, key);
    expect(decodeProtectedHeader(token)).toEqual({ alg: 'HS256', kid: 'k1', typ: 'JWT' });
    const currentDate = new Date(1_772_000_000_000);
    const { payload } = await jwtVerify(token, secret, { algorithms: ['HS256'], currentDate });
    expect(payload).toEqual(claims);
    const theirs = await new SignJWT(claims)
      .setProtectedHeader({ alg: 'HS256', kid: 'k1', typ: 'JWT' })
      .sign(secret);
    expect(await verifyQuote(theirs, key)).toEqual(claims);
    expect(keyIdOf(theirs)).toBe('k1');
  });

  it('is rejected if any character was changed', async () => {
    const token = await signQuote(claims, key);
    for (let at = 0; at < token.length; at++) {
      // The last character of a part also holds bits that decode to nothing; those may differ.
      const another = token[at] === 'A' ? 'Q' : 'A';
      const altered = `${token.slice(0, at)}${another}${token.slice(at + 1)}`;
      const read = altered === token ? null : await verifyQuote(altered, key);
      if (read !== null)
        expect(Buffer.from(altered.split('.')[2]!, 'base64url')).toEqual(
          Buffer.from(token.split('.')[2]!, 'base64url'),
        );
    }
  });

  it.each([
    ['no algorithm', { alg: 'none', kid: 'k1' }],
    ['another algorithm', { alg: 'RS256', kid: 'k1', typ: 'JWT' }],
    ['its own key', { alg: 'HS256', kid: 'k1', jwk: { kty: 'oct', k: 'AAAA' } }],
    ['another key', { alg: 'HS256', kid: 'k2', typ: 'JWT' }],
  ])('is rejected with %s in its header', async (_, header) => {
    const [, payload, signature] = (await signQuote(claims, key)).split('.');
    const head = Buffer.from(JSON.stringify(header)).toString('base64url');
    expect(await verifyQuote(`${head}.${payload}.${signature}`, key)).toBeNull();
    expect(await verifyQuote(`${head}.${payload}.`, key)).toBeNull();
  });

  it.each(['', '.', '..', '...', 'a.b.c', 'é.é.é', `${'a'.repeat(5000)}.b.c`, 'bnVsbA.bnVsbA.bnVsbA'])(
    'nonsense (%j) is no token',
    async (token) => {
      expect(keyIdOf(token)).toBeNull();
      expect(await verifyQuote(token, key)).toBeNull();
    },
  );

  it('is rejected if its claims have another shape, even if signed', async () => {
    const odd = await new SignJWT({ ...claims, total: 5 })
      .setProtectedHeader({ alg: 'HS256', kid: 'k1', typ: 'JWT' })
      .sign(secret);
    expect(await verifyQuote(odd, key)).toBeNull();
  });
});
