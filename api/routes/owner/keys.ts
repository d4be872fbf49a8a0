import { z } from 'zod';
import { ProblemError } from '../../http/problem.ts';
import { requireRole } from '../../middleware/owner-key.ts';
import { newSigningKey } from '../../services/create-shop.ts';
import { makeKey } from '../../services/owner-key.ts';
import type { StoredKey } from '../../store/keys.ts';
import { type RouteContext, SHOP } from '../context.ts';

const Role = z.enum(['owner', 'floor']);
const KeyAnswer = z.strictObject({
  id: z.string(),
  name: z.string(),
  role: Role,
  createdAt: z.string(),
  revokedAt: z.string().nullable(),
});

/** Keys of owners and floors, and the secret quotes are signed with. */
export function ownerKeyRoutes({ book, deps }: RouteContext): void {
  const { store } = deps;

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/keys`,
      id: 'listKeys',
      tag: 'Owners',
      summary: 'Every key there was, without its secret',
      answers: { 200: { description: 'The keys', schema: z.strictObject({ keys: z.array(KeyAnswer) }) } },
      problems: [],
      keyed: true,
    },
    async (c) => {
      requireRole('owner', c.get('key').role);
      return c.json({ keys: (await store.keys.all(c.get('head').shop)).map(keyAnswer) });
    },
  );

  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/keys`,
      id: 'addKey',
      tag: 'Owners',
      summary: 'A new key; it is shown this once',
      body: {
        schema: z.strictObject({ name: z.string().trim().min(1).max(80), role: Role }),
        limitBytes: 10_000,
      },
      answers: { 201: { description: 'The key', schema: KeyAnswer.extend({ key: z.string() }) } },
      problems: [],
      keyed: true,
    },
    async (c, { body }) => {
      requireRole('owner', c.get('key').role);
      const { shop } = c.get('head');
      const { key, kept } = makeKey(body.name, body.role, instant(deps.now()), deps.randomBytes);
      await store.write(shop, (parts) => parts.keys.add(shop, kept));
      return c.json({ ...keyAnswer(kept), key }, 201);
    },
  );

  book.add(
    {
      method: 'delete',
      path: `${SHOP}/owner/keys/{id}`,
      id: 'revokeKey',
      tag: 'Owners',
      summary: 'Revoke a key at once',
      params: z.object({ id: z.string().regex(/^[a-z0-9]{10}$/) }),
      answers: { 204: { description: 'It opens nothing any more' } },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { params }) => {
      requireRole('owner', c.get('key').role);
      const { shop } = c.get('head');
      const refused = await store.write(shop, async (parts) => {
        const valid = (await parts.keys.all(shop)).filter(({ revokedAt }) => revokedAt === null);
        const key = valid.find(({ id }) => id === params.id);
        if (key === undefined)
          return new ProblemError('not-found', 'there is no such key, or it was revoked before');
        if (key.role === 'owner' && valid.filter(({ role }) => role === 'owner').length === 1)
          return new ProblemError(
            'not-allowed',
            'the last key of an owner cannot be revoked; make another first',
          );
        await parts.keys.revoke(shop, key.id, instant(deps.now()));
        return null;
      });
      if (refused !== null) throw refused;
      return c.body(null, 204);
    },
  );

  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/signing-keys`,
      id: 'rotateSigningKey',
      tag: 'Owners',
      summary: 'Sign quotes with a new secret from now on',
      description:
        'Quotes signed with older secrets stay good until they expire; secrets older than 60 days are forgotten. With `now`, all older ones are forgotten at once, and with them every quote given.',
      body: { schema: z.strictObject({ now: z.boolean().default(false) }), limitBytes: 10_000 },
      answers: { 201: { description: 'Its id', schema: z.strictObject({ id: z.string() }) } },
      problems: [],
      keyed: true,
    },
    async (c, { body }) => {
      requireRole('owner', c.get('key').role);
      const { shop } = c.get('head');
      const { id, secret } = newSigningKey(deps.randomBytes);
      const at = deps.now();
      await store.write(shop, async (parts) => {
        await parts.keys.addSigningKey(shop, id, secret, instant(at));
        await parts.shops.setSigningKey(shop, id);
        const before = body.now ? at + 1 : at - SECRETS_KEPT_MS;
        await parts.keys.deleteSigningKeys(shop, instant(before), id);
      });
      return c.json({ id }, 201);
    },
  );
}

/** Longer than any quote holds. */
const SECRETS_KEPT_MS = 60 * 86_400_000;

function keyAnswer({ id, name, role, createdAt, revokedAt }: StoredKey): z.infer<typeof KeyAnswer> {
  return { id, name, role, createdAt, revokedAt };
}

function instant(epochMs: number): string {
  return new Date(epochMs).toISOString();
}
