import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PROBLEMS } from '../../../src/contract/index.ts';
import { openTestApi, type TestApi } from '../test-api.ts';

type Operation = {
  operationId: string;
  responses: Record<string, { content?: Record<string, { schema: unknown }> }>;
  security?: unknown[];
  requestBody?: { content: Record<string, { schema: unknown }> };
  parameters?: { name: string; in: string }[];
};
type Document = {
  openapi: string;
  paths: Record<string, Record<string, Operation>>;
  components: { securitySchemes: Record<string, unknown> };
};

let rig: TestApi;
let document: Document;
beforeAll(async () => {
  rig = await openTestApi();
  document = (await (await rig.fetch('/v1/openapi.json')).json()) as Document;
});
afterAll(() => rig.close());

describe('the API description', () => {
  it('is OpenAPI 3.1 and lists exactly the routes there are', () => {
    expect(document.openapi).toBe('3.1.0');
    const described = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replace(/\{(\w+)\}/g, ':$1')}`),
    );
    const there = rig.app.routes
      .filter(
        ({ method, path }) => method !== 'ALL' && path !== '/v1/openapi.json' && !path.startsWith('/v1/docs'),
      )
      .map(({ method, path }) => `${method} ${path}`);
    expect(described.sort()).toEqual([...new Set(there)].sort());
    expect(described.length).toBeGreaterThan(25);
  });

  it('has a unique id for every operation', () => {
    const ids = Object.values(document.paths).flatMap((methods) =>
      Object.values(methods).map(({ operationId }) => operationId),
    );
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('requires a key exactly on the owner’s routes', () => {
    expect(document.components.securitySchemes).toHaveProperty('ownerKey');
    for (const [path, methods] of Object.entries(document.paths))
      for (const operation of Object.values(methods))
        expect(operation.security !== undefined, path).toBe(path.includes('/owner/'));
  });

  it('describes problems by status, with their codes', () => {
    for (const methods of Object.values(document.paths))
      for (const { responses } of Object.values(methods))
        for (const [status, { content }] of Object.entries(responses)) {
          const isProblem = Number(status) >= 400;
          expect(Object.keys(content ?? {}).includes('application/problem+json')).toBe(isProblem);
        }
    const statuses = new Set(Object.values(PROBLEMS).map(({ status }) => String(status)));
    const used = Object.values(document.paths).flatMap((methods) =>
      Object.values(methods).flatMap(({ responses }) =>
        Object.keys(responses).filter((status) => Number(status) >= 400),
      ),
    );
    for (const status of used) expect(statuses).toContain(status);
  });

  it('has the schemas that are enforced, with their limits', () => {
    const quote = document.paths['/v1/shops/{shop}/quotes']!['post']!;
    const text = JSON.stringify(quote.requestBody);
    expect(text).toContain('"maximum":10000');
    expect(text).toContain('"additionalProperties":false');
    const order = document.paths['/v1/shops/{shop}/orders']!['post']!;
    expect(order.parameters?.map(({ name, in: where }) => `${where} ${name}`)).toEqual(
      expect.arrayContaining(['path shop', 'header idempotency-key']),
    );
  });
});
