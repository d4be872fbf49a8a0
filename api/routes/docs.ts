import type { OpenAPIHono } from '@hono/zod-openapi';
import type { AppEnv } from '../http/env.ts';

/** The OpenAPI description, made once from the schemas that validate requests. */
export function docsRoutes(app: OpenAPIHono<AppEnv>, publicUrl: string): void {
  app.openAPIRegistry.registerComponent('securitySchemes', 'ownerKey', {
    type: 'http',
    scheme: 'bearer',
    description: 'A key of the shop, `pp_…`.',
  });
  let text: string | undefined;
  app.get('/v1/openapi.json', (c) => {
    text ??= JSON.stringify(
      app.getOpenAPI31Document({
        openapi: '3.1.0',
        info: {
          title: 'Peel & Platen',
          version: '1',
          description:
            "Methods, prices and days for decorated apparel, and the orders made from them. Amounts are decimal strings, lengths mm, days ISO dates in the shop's time zone, instants UTC. Problems are those of RFC 9457, with a closed list of codes.",
        },
        ...(publicUrl === '' ? {} : { servers: [{ url: publicUrl }] }),
        tags: [
          { name: 'Customers', description: 'For the order slip in a page; no key.' },
          { name: 'Owners', description: 'With a key of the owner.' },
          { name: 'Floor', description: 'With a key of the owner or of the floor.' },
          { name: 'Operations' },
        ],
      }),
    );
    c.header('Content-Type', 'application/json');
    c.header('Cache-Control', 'no-cache');
    return c.body(text);
  });
}
