import { z } from 'zod';
import { Catalog, checkCatalog } from '../../../src/catalog/index.ts';
import { Fault } from '../../../src/contract/index.ts';
import { readJson } from '../../http/body.ts';
import { ifMatchHas, ifNoneMatchHas, preconditionFailed, requireIfMatch } from '../../http/etag.ts';
import { ProblemError } from '../../http/problem.ts';
import { requireRole } from '../../middleware/owner-key.ts';
import { replaceCatalog } from '../../services/catalogs.ts';
import { type RouteContext, SHOP } from '../context.ts';
import { LateOrderAnswer, lateAnswer } from './schemas.ts';

const VersionHead = z.strictObject({
  version: z.int(),
  etag: z.string(),
  createdAt: z.string(),
  /** name of the key it came with. */
  createdBy: z.string(),
});

const InForce = z.strictObject({
  version: z.int(),
  etag: z.string(),
  /** orders whose work moved by the new hours, by number. */
  moved: z.array(z.string()),
  late: z.array(LateOrderAnswer),
});

/** The owner's catalog: read, checked, replaced, with every version kept. */
export function ownerCatalogRoutes({ book, deps, floor }: RouteContext): void {
  const json = { 'application/json': { schema: Catalog } };

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/catalog`,
      id: 'getOwnerCatalog',
      tag: 'Owners',
      summary: 'The catalog in force, as its owner sent it',
      answers: {
        200: { description: 'The catalog', schema: Catalog, headers: { ETag: 'to send back as If-Match' } },
        304: { description: 'Still the version named in If-None-Match' },
      },
      problems: [],
      keyed: true,
    },
    async (c) => {
      requireRole('owner', c.get('key').role);
      const { shop, catalogVersion } = c.get('head');
      const stored = await deps.store.catalogs.get(shop, catalogVersion);
      if (stored === undefined) throw new Error(`version ${catalogVersion} of shop '${shop}' is missing`);
      c.header('ETag', `"${stored.etag}"`);
      c.header('Catalog-Version', String(stored.version));
      if (ifNoneMatchHas(c.req.header('if-none-match'), `"${stored.etag}"`)) return c.body(null, 304);
      c.header('Content-Type', 'application/json');
      return c.body(stored.body);
    },
  );

  book.add(
    {
      method: 'put',
      path: `${SHOP}/owner/catalog`,
      id: 'replaceCatalog',
      tag: 'Owners',
      summary: 'Replace the catalog; the next quote is made from it',
      description:
        'Needs If-Match with the ETag of the version that was read. Every fault is told at once. Work booked is laid out anew by the new hours; quotes given before hold until they expire.',
      headers: z.object({ 'if-match': z.string() }),
      rawBody: json,
      answers: {
        200: { description: 'It is in force', schema: InForce, headers: { ETag: 'of this version' } },
      },
      problems: [
        'catalog-faulty',
        'precondition-failed',
        'precondition-required',
        'malformed-json',
        'unsupported-media',
        'too-large',
        'busy',
      ],
      keyed: true,
    },
    async (c) => {
      requireRole('owner', c.get('key').role);
      const ifMatch = requireIfMatch(c);
      const input = await readJson(c, deps.limits.catalogBytes);
      const { shop } = c.get('head');
      const change = await replaceCatalog(
        { store: deps.store, floor, now: deps.now },
        shop,
        input,
        c.get('key').name,
        (etag) => ifMatchHas(ifMatch, etag),
      );
      if (change.kind === 'changed') throw preconditionFailed(ifMatch, change.etag);
      if (change.kind === 'faulty') throw faulty(change.faults);
      c.header('ETag', change.etag);
      return c.json({
        version: change.version,
        etag: change.etag,
        moved: [...change.plan.moved],
        late: change.plan.late.map(lateAnswer),
      });
    },
  );

  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/catalog/check`,
      id: 'checkCatalog',
      tag: 'Owners',
      summary: 'Every fault of a catalog; nothing is changed',
      rawBody: json,
      answers: {
        200: {
          description: 'Its faults; none: it could be put in force',
          schema: z.strictObject({ faults: z.array(Fault) }),
        },
      },
      problems: ['malformed-json', 'unsupported-media', 'too-large'],
      keyed: true,
    },
    async (c) => {
      requireRole('owner', c.get('key').role);
      const { faults } = checkCatalog(await readJson(c, deps.limits.catalogBytes));
      return c.json({ faults: [...(faults ?? [])] });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/catalog/versions`,
      id: 'catalogVersions',
      tag: 'Owners',
      summary: 'Every version there was, newest first',
      answers: {
        200: { description: 'The versions', schema: z.strictObject({ versions: z.array(VersionHead) }) },
      },
      problems: [],
      keyed: true,
    },
    async (c) => {
      requireRole('owner', c.get('key').role);
      const versions = await deps.store.catalogs.versions(c.get('head').shop);
      return c.json({ versions: versions.map((version) => ({ ...version, etag: `"${version.etag}"` })) });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/catalog/versions/{version}`,
      id: 'catalogVersion',
      tag: 'Owners',
      summary: 'One version of the catalog',
      params: z.object({ version: z.string().regex(/^[1-9]\d{0,8}$/) }),
      answers: { 200: { description: 'The catalog as it was sent', schema: Catalog } },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { params }) => {
      requireRole('owner', c.get('key').role);
      const stored = await deps.store.catalogs.get(c.get('head').shop, Number(params.version));
      if (stored === undefined)
        throw new ProblemError('not-found', `there is no version ${params.version} of the catalog`);
      c.header('ETag', `"${stored.etag}"`);
      c.header('Content-Type', 'application/json');
      return c.body(stored.body);
    },
  );
}

function faulty(faults: readonly Fault[]): ProblemError {
  const [first] = faults;
  const many = faults.length === 1 ? 'a fault' : `${faults.length} faults, the first`;
  return new ProblemError('catalog-faulty', `the catalog has ${many} at ${first?.at}: ${first?.message}`, {
    faults,
  });
}
