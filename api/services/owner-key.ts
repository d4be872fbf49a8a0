import { createHash, timingSafeEqual } from 'node:crypto';
import type { Role, StoredKey } from '../store/keys.ts';
import type { Store } from '../store/store.ts';

/** How a key is written: `pp_`, its id, a point, 32 random bytes. */
const KEY = /^pp_([a-z0-9]{10})\.([A-Za-z0-9_-]{43})$/;
const ID_LETTERS = 'abcdefghijklmnopqrstuvwxyz234567';

/** A new key: as it is given out once, and as it is kept. */
export function makeKey(
  name: string,
  role: Role,
  at: string,
  randomBytes: (count: number) => Buffer,
): { readonly key: string; readonly kept: StoredKey } {
  const id = [...randomBytes(10)].map((byte) => ID_LETTERS[byte & 31]).join('');
  const secret = randomBytes(32).toString('base64url');
  return {
    key: `pp_${id}.${secret}`,
    kept: { id, name, role, hash: hashSecret(secret).toString('hex'), createdAt: at, revokedAt: null },
  };
}

/** The key a request came with, or undefined when this shop has none such, or it was revoked. */
export async function findKey(
  store: Pick<Store, 'keys'>,
  shop: string,
  key: string,
): Promise<StoredKey | undefined> {
  const [, id, secret] = KEY.exec(key) ?? [];
  if (id === undefined || secret === undefined) return undefined;
  const kept = await store.keys.get(shop, id);
  // Compared also where there is none, so that the time tells nothing.
  const expected = Buffer.from(kept?.hash ?? '0'.repeat(64), 'hex');
  const same = timingSafeEqual(hashSecret(secret), expected);
  return same && kept !== undefined && kept.revokedAt === null ? kept : undefined;
}

/** The secret has 256 random bits: nothing to guess, so nothing that a slow hash would slow down. */
function hashSecret(secret: string): Buffer {
  return createHash('sha256').update(secret).digest();
}
