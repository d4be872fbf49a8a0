import { PublicCatalog } from '../../src/catalog/index.ts';
import { LETTERING_FONTS } from '../../src/production/index.ts';
import { ifNoneMatchHas } from '../http/etag.ts';
import { type RouteContext, SHOP } from './context.ts';

/** Part of the ETag, since fonts come with the program, not with the catalog. */
const FONTS = LETTERING_FONTS.map(({ id }) => id).join('+');

/** The catalog as customers see it. */
export function catalogRoutes({ book, deps, quotes }: RouteContext): void {
  book.add(
    {
      method: 'get',
      path: `${SHOP}/catalog`,
      id: 'getCatalog',
      tag: 'Customers',
      summary: 'What the shop offers',
      description: 'The newest catalog as customers see it: no cost, rate, wage or margin is in it.',
      answers: {
        200: { description: 'The catalog', schema: PublicCatalog, headers: { ETag: 'its version' } },
        304: { description: 'Still the version named in If-None-Match' },
      },
      problems: [],
    },
    async (c) => {
      const head = c.get('head');
      const etag = `"catalog-${head.catalogVersion}-${FONTS}"`;
      c.header('ETag', etag);
      c.header('Cache-Control', 'no-cache');
      if (ifNoneMatchHas(c.req.header('if-none-match'), etag)) return c.body(null, 304);
      const { publicBody } = await quotes.currentCatalog(deps.store, head);
      c.header('Content-Type', 'application/json');
      return c.body(publicBody);
    },
  );
}
