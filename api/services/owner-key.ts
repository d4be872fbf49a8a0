import { hasHash, sha256 } from '../sha256.ts';
import type { Role, StoredKey } from '../store/keys.ts';
import type { Store } from '../store/store.ts';

/** Format of a key: `pp_`, its id, a dot, 32 random bytes in base64url. */
const KEY = /^pp_([a-z0-9]{10})\.([A-Za-z0-9_-]{43})$/;
const ID_LETTERS = 'abcdefghijklmnopqrstuvwxyz234567';

/**
 * A new key: as it is shown once, and as it is stored. The secret has 256 random bits, so a slow password hash would add
 * nothing to SHA-256.
 */
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
    kept: { id, name, role, hash: sha256(secret), createdAt: at, revokedAt: null },
  };
}

/** Finds the stored key for the one in a request; undefined if this shop has no such key, or it was revoked. */
export async function findKey(
  store: Pick<Store, 'keys'>,
  shop: string,
  key: string,
): Promise<StoredKey | undefined> {
  const [, id, secret] = KEY.exec(key) ?? [];
  if (id === undefined || secret === undefined) return undefined;
  const kept = await store.keys.get(shop, id);
  // Compared even if there is no such key, so that the time taken reveals nothing.
  const same = hasHash(secret, kept?.hash ?? '0'.repeat(64));
  return same && kept !== undefined && kept.revokedAt === null ? kept : undefined;
}
