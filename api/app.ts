import { OpenAPIHono } from '@hono/zod-openapi';
import { compress } from 'hono/compress';
import { HTTPException } from 'hono/http-exception';
import { methodNotAllowed } from 'hono/method-not-allowed';
import type { AppDeps } from './deps.ts';
import type { AppContext, AppEnv } from './http/env.ts';
import { ProblemError, problem } from './http/problem.ts';
import { RouteBook } from './http/route-book.ts';
import { UploadGate } from './http/upload.ts';
import { createMetrics } from './metrics.ts';
import { headers } from './middleware/headers.ts';
import { observe } from './middleware/observe.ts';
import { ownerKey } from './middleware/owner-key.ts';
import { rateLimit } from './middleware/rate-limit.ts';
import { shopInPath } from './middleware/shop.ts';
import { artworkRoutes } from './routes/artworks.ts';
import { catalogRoutes } from './routes/catalog.ts';
import type { RouteContext } from './routes/context.ts';
import { docsRoutes } from './routes/docs.ts';
import { operationRoutes } from './routes/operations.ts';
import { orderRoutes } from './routes/orders.ts';
import { calendarRoutes } from './routes/owner/calendar.ts';
import { ownerCatalogRoutes } from './routes/owner/catalog.ts';
import { floorRoutes } from './routes/owner/floor.ts';
import { ownerKeyRoutes } from './routes/owner/keys.ts';
import { ownerOrderRoutes } from './routes/owner/orders.ts';
import { planRoutes } from './routes/owner/plan.ts';
import { ticketRoutes } from './routes/owner/tickets.ts';
import { pageRoutes } from './routes/pages.ts';
import { proofRoutes } from './routes/proofs.ts';
import { quoteRoutes } from './routes/quotes.ts';
import { uploadRoutes } from './routes/uploads.ts';
import { ArtworkService } from './services/artworks.ts';
import { CatalogCache } from './services/catalog-cache.ts';
import { FloorService } from './services/floor.ts';
import { OrderService } from './services/orders.ts';
import { PlanCache } from './services/plan-cache.ts';
import { QuoteService } from './services/quotes.ts';
import { StoreBusyError } from './store/sqlite.ts';

/** The API as a Hono app. */
export function createApp(deps: AppDeps): OpenAPIHono<AppEnv> {
  const { store, logger, now } = deps;
  const app = new OpenAPIHono<AppEnv>();
  const metrics = createMetrics(() => deps.pool.load());
  const catalogs = new CatalogCache();
  const plans = new PlanCache();
  const quotes = new QuoteService({ store, catalogs, plans, now });
  const floor = new FloorService({ store, quotes, plans, now, newId: deps.requestId });
  const artworks = new ArtworkService({ store, pool: deps.pool, filesOf: deps.filesOf, now });
  const orders = new OrderService({
    store,
    quotes,
    artworks,
    now,
    randomBytes: deps.randomBytes,
    statusUrl: (shop, number, key) => `${deps.publicUrl}/orders/${shop}/${number}?key=${key}`,
  });

  app.use(observe({ logger, metrics, requestId: deps.requestId }));
  app.use(headers(deps));
  app.use(methodNotAllowed({ app, onMethodNotAllowed: refuseMethod }));
  app.use('/v1/*', rateLimit(deps));
  app.use('/v1/shops/:shop/*', shopInPath(store));
  app.use('/v1/shops/:shop/owner/*', ownerKey(store));
  // Every visitor fetches the catalog first.
  app.use('/v1/shops/:shop/catalog', compress());

  const book = new RouteBook(app);
  const gate = new UploadGate(deps.limits.uploadsAtOnce);
  const context: RouteContext = { deps, book, metrics, catalogs, artworks, gate, quotes, orders, floor };
  catalogRoutes(context);
  artworkRoutes(context);
  uploadRoutes(context);
  quoteRoutes(context);
  proofRoutes(context);
  orderRoutes(context);
  ownerCatalogRoutes(context);
  ownerOrderRoutes(context);
  ownerKeyRoutes(context);
  planRoutes(context);
  floorRoutes(context);
  ticketRoutes(context);
  calendarRoutes(context);
  operationRoutes(context);
  docsRoutes(app, deps.publicUrl);
  pageRoutes(app, deps);

  app.notFound((c) => problem(c, 'not-found', 'there is nothing at this address'));

  app.onError((error, c) => {
    if (error instanceof ProblemError) return problem(c, error.code, error.message, error.more);
    if (error instanceof StoreBusyError)
      return problem(c, 'busy', 'too much is being written at once', { headers: { 'Retry-After': '1' } });
    if (error instanceof HTTPException && error.status < 500)
      return problem(c, 'invalid-input', error.message);
    logger.error({ requestId: c.get('requestId'), err: error }, 'request failed');
    return problem(c, 'server-fault', 'a fault in the server; it has been written down');
  });

  return app;
}

function refuseMethod(c: AppContext, methods: readonly string[]): Response {
  const allow = [
    ...methods.filter((method) => method !== 'HEAD'),
    ...(methods.includes('HEAD') ? ['HEAD'] : []),
  ];
  return problem(c, 'method-not-allowed', `${c.req.method} is not taken here; ${allow.join(', ')} is`, {
    headers: { Allow: allow.join(', ') },
  });
}
