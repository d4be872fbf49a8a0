import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import type { OpenAPIHono } from '@hono/zod-openapi';
import type { MiddlewareHandler } from 'hono';
import { accepts } from 'hono/accepts';
import { compress } from 'hono/compress';
import { etag } from 'hono/etag';
import { Id } from '../../src/contract/index.ts';
import type { AppDeps } from '../deps.ts';
import type { AppContext, AppEnv } from '../http/env.ts';
import { ProblemError } from '../http/problem.ts';

/** The strictest content security policy that the widget works under. */
const PAGE_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "font-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

/** Names with a content hash, such as `chunks/stage-7Jn0Xp5c.js`. */
const HASHED = /\/(chunks|fonts|workers)\/[^/]+-[A-Za-z0-9_-]{8,}\.\w+(\.map)?$/;
const ONE_YEAR = 'public, max-age=31536000, immutable';
const REVALIDATE = 'no-cache';

/** The widget's files, a status page for every order, and the demo's pages. */
export function pageRoutes(app: OpenAPIHono<AppEnv>, deps: AppDeps): void {
  const { pages } = deps;
  if (pages === null) return;

  const page: MiddlewareHandler<AppEnv> = (c, next) => {
    c.header('Content-Security-Policy', PAGE_POLICY);
    c.header('Cross-Origin-Opener-Policy', 'same-origin');
    c.header('Cache-Control', REVALIDATE);
    return next();
  };

  app.use('/widget/*', compress(), etag());
  app.get('/widget/*', (c, next) => {
    c.header('Cache-Control', HASHED.test(c.req.path) ? ONE_YEAR : REVALIDATE);
    c.header('Cross-Origin-Resource-Policy', 'cross-origin');
    return next();
  });
  app.get(
    '/widget/*',
    folder(pages.widget, (path) => path.slice('/widget'.length)),
  );

  app.get('/orders/page.css', (c) => {
    c.header('Content-Type', 'text/css; charset=utf-8');
    c.header('Cache-Control', REVALIDATE);
    return c.body(ORDER_STYLE);
  });
  app.get('/orders/:shop/:number', page, (c) => {
    const shop = c.req.param('shop');
    const number = c.req.param('number');
    if (!Id.safeParse(shop).success || !/^\d{1,12}$/.test(number))
      throw new ProblemError('not-found', 'there is nothing at this address');
    // Whoever has this address can open the order.
    c.header('Cache-Control', 'no-store');
    c.header('Vary', 'Accept-Language');
    return c.html(orderPage(shop, number, c.req.query('key') ?? '', preferredLanguage(c)));
  });

  const { demo } = pages;
  if (demo === null) return;
  app.use('/demo/*', compress(), etag());
  app.get(
    '/demo/*',
    page,
    folder(demo, (path) => path.slice('/demo'.length)),
  );
  app.get('/', page, file(join(demo, 'index.html')));
  app.get('/order.html', page, file(join(demo, 'order.html')));
}

/** Serves a folder. It may be built later than we start; until then nothing is found. */
function folder(root: string, within: (path: string) => string): MiddlewareHandler<AppEnv> {
  let serve: MiddlewareHandler<AppEnv> | undefined;
  return (c, next) => {
    if (serve === undefined && existsSync(root))
      serve = serveStatic({ root, rewriteRequestPath: within, precompressed: true });
    return serve === undefined ? next() : serve(c, next);
  };
}

function file(path: string): MiddlewareHandler<AppEnv> {
  return serveStatic({ path });
}

/** Style of the status page, for shops that have none of their own. */
const ORDER_STYLE = `:root { color-scheme: light dark; }
body { margin: 0; padding: clamp(12px, 4vw, 48px); background: #efeade; }
platen-order { display: block; max-width: 620px; margin-inline: auto; }
@media (prefers-color-scheme: dark) { body { background: #1b1c1f; } }
`;

/** @param language of the visitor, BCP 47 */
function orderPage(shop: string, number: string, key: string, language: string): string {
  return `<!doctype html>
<html lang="${language}">
  <head>
    <meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1">
    <meta name="robots" content="noindex">
    <meta name="referrer" content="no-referrer">
    <title>${number} · ${shop}</title>
    <link rel="stylesheet" href="/orders/page.css">
    <script type="module" src="/widget/platen-order.js"></script>
  </head>
  <body>
    <main><platen-order theme="auto" shop="${shop}" order-number="${number}" order-key="${escaped(key)}"></platen-order></main>
  </body>
</html>
`;
}

const LANGUAGE = /^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/;

/** The language a visitor's browser prefers; English if it names none. */
function preferredLanguage(c: AppContext): string {
  return accepts(c, {
    header: 'Accept-Language',
    supports: [],
    default: 'en',
    match: (languages) => languages.find(({ type }) => LANGUAGE.test(type))?.type ?? 'en',
  });
}

function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => `&#${mark.charCodeAt(0)};`);
}
