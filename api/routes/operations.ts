import { z } from 'zod';
import { PROBLEMS, type ProblemCode } from '../../src/contract/index.ts';
import { isLocal } from '../http/client-address.ts';
import { ProblemError } from '../http/problem.ts';
import { findKey } from '../services/owner-key.ts';
import type { RouteContext } from './context.ts';

const Problems = z.enum(Object.keys(PROBLEMS) as [ProblemCode, ...ProblemCode[]]);

/** Health, readiness and metrics. */
export function operationRoutes({ book, deps, metrics }: RouteContext): void {
  const Health = z.strictObject({ status: z.literal('up') });
  book.add(
    {
      method: 'get',
      path: '/healthz',
      id: 'health',
      tag: 'Operations',
      summary: 'Whether the program runs',
      answers: { 200: { description: 'It does', schema: Health } },
      problems: [],
    },
    (c) => c.json({ status: 'up' }),
  );

  book.add(
    {
      method: 'get',
      path: '/readyz',
      id: 'ready',
      tag: 'Operations',
      summary: 'Whether the program can serve: its store answers, its files can be written',
      answers: { 200: { description: 'It can', schema: z.strictObject({ status: z.literal('ready') }) } },
      problems: ['busy'],
    },
    async (c) => {
      c.header('Cache-Control', 'no-store');
      const checkFiles = async (): Promise<void> => {
        await (await deps.filesOf('readiness')).put(new TextEncoder().encode('ready'));
      };
      const failed = await failingParts([
        ['store', () => deps.store.ping()],
        ['files', checkFiles],
      ]);
      if (failed.length > 0)
        throw new ProblemError('busy', `not ready: ${failed.join(' and ')}`, {
          headers: { 'Retry-After': '5' },
        });
      return c.json({ status: 'ready' });
    },
  );

  book.add(
    {
      method: 'get',
      path: '/metrics',
      id: 'metrics',
      tag: 'Operations',
      summary:
        'Figures about the running program, for Prometheus; for this machine itself, or with a key of an owner',
      answers: { 200: { description: 'The figures', media: 'text/plain' } },
      problems: ['not-allowed'],
    },
    async (c) => {
      if (!isLocal(c) && !(await hasOwnerKey(deps.store, c.req.header('authorization'))))
        throw new ProblemError(
          'not-allowed',
          'figures are for the machine itself, or for an owner with a key',
        );
      const { type, body } = await metrics.text();
      c.header('Content-Type', type);
      c.header('Cache-Control', 'no-store');
      return c.body(body);
    },
  );

  book.add(
    {
      method: 'get',
      path: '/v1/problems/{code}',
      id: 'problemType',
      tag: 'Operations',
      summary: 'What a problem code means',
      params: z.object({ code: Problems }),
      answers: {
        200: {
          description: 'Its status and title',
          schema: z.strictObject({ code: z.string(), status: z.int(), title: z.string() }),
        },
      },
      problems: ['not-found'],
    },
    (c, { params }) => c.json({ code: params.code, ...PROBLEMS[params.code] }),
  );
}

async function failingParts(parts: readonly (readonly [string, () => Promise<void>])[]): Promise<string[]> {
  const outcomes = await Promise.allSettled(parts.map(([, check]) => check()));
  return parts.flatMap(([name], index) => (outcomes[index]!.status === 'rejected' ? [name] : []));
}

async function hasOwnerKey(
  store: RouteContext['deps']['store'],
  header: string | undefined,
): Promise<boolean> {
  const key = /^bearer\s+(\S+)$/i.exec(header ?? '')?.[1];
  if (key === undefined) return false;
  for (const shop of await store.shops.ids()) {
    const found = await findKey(store, shop, key);
    if (found?.role === 'owner') return true;
  }
  return false;
}
