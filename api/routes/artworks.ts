import { z } from 'zod';
import { ArtworkAnswer, MendRequest, Sha256 } from '../../src/contract/index.ts';
import { isRefusal } from '../files/index.ts';
import type { AppContext } from '../http/env.ts';
import { ifNoneMatchHas } from '../http/etag.ts';
import { fileProblem, ProblemError } from '../http/problem.ts';
import { readFile } from '../http/upload.ts';
import { requireRole } from '../middleware/owner-key.ts';
import { artworkAnswer } from '../services/artworks.ts';
import { type RouteContext, SHOP, shopBase } from './context.ts';

const ArtworkPath = z.object({ artwork: Sha256 });
/** Pictures are named by their content hash: they never change. */
const FOREVER = 'public, max-age=31536000, immutable';
/** A picture opened on its own may run nothing and load nothing. */
const SANDBOX = "default-src 'none'; sandbox";

/** Customers' artwork: upload, remedies, previews. */
export function artworkRoutes({ book, deps, artworks, gate }: RouteContext): void {
  const file = { type: 'string', format: 'binary' };

  book.add(
    {
      method: 'post',
      path: `${SHOP}/artworks`,
      id: 'sendArtwork',
      tag: 'Customers',
      summary: 'Send an artwork',
      description:
        'One file: the part `file` of a form, or the body itself (its name in Content-Disposition). What kind it is goes by its bytes alone. The same bytes give the same artwork.',
      rawBody: {
        'multipart/form-data': { schema: { type: 'object', properties: { file }, required: ['file'] } },
        'application/octet-stream': { schema: file },
      },
      answers: {
        200: { description: 'It was known already', schema: ArtworkAnswer },
        201: { description: 'Read and measured', schema: ArtworkAnswer },
      },
      problems: [
        'invalid-input',
        'too-large',
        'unsupported-file',
        'unsupported-media',
        'unreadable-file',
        'busy',
      ],
    },
    (c) =>
      gate.run(async () => {
        const { shop } = c.get('head');
        const sent = await readFile(c, deps.limits);
        const added = await artworks.add(shop, sent.bytes, sent.name);
        if (isRefusal(added)) throw fileProblem(added);
        const answer = artworkAnswer(shopBase(shop), added);
        c.header('Location', `${shopBase(shop)}/artworks/${answer.id}`);
        return c.json(answer, added.isNew ? 201 : 200);
      }),
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/artworks/{artwork}`,
      id: 'getArtwork',
      tag: 'Customers',
      summary: 'What is known of an artwork',
      params: ArtworkPath,
      answers: { 200: { description: 'The artwork as sent', schema: ArtworkAnswer } },
      problems: ['not-found', 'busy'],
    },
    async (c, { params }) => {
      const { shop } = c.get('head');
      const found = await artworks.withRemedies(shop, params.artwork, []);
      if (found === undefined) throw noArtwork();
      if (isRefusal(found)) throw fileProblem(found);
      return c.json(artworkAnswer(shopBase(shop), found));
    },
  );

  book.add(
    {
      method: 'post',
      path: `${SHOP}/artworks/{artwork}/mended`,
      id: 'mendArtwork',
      tag: 'Customers',
      summary: 'An artwork with mends applied, measured',
      params: ArtworkPath,
      body: { schema: MendRequest, limitBytes: deps.limits.jsonBytes },
      answers: { 200: { description: 'The artwork as mended', schema: ArtworkAnswer } },
      problems: ['not-found', 'unreadable-file', 'busy'],
    },
    async (c, { params, body }) => {
      const { shop } = c.get('head');
      const found = await artworks.withRemedies(shop, params.artwork, body.remedies);
      if (found === undefined) throw noArtwork();
      if (isRefusal(found)) throw fileProblem(found);
      return c.json(artworkAnswer(shopBase(shop), found));
    },
  );

  const picture = async (c: AppContext, find: () => Promise<string | undefined>): Promise<Response> => {
    const { shop } = c.get('head');
    const name = await find();
    const bytes = name === undefined ? null : await artworks.bytes(shop, name);
    if (name === undefined || bytes === null) throw noArtwork();
    c.header('ETag', `"${name}"`);
    c.header('Cache-Control', FOREVER);
    c.header('Content-Security-Policy', SANDBOX);
    c.header('Cross-Origin-Resource-Policy', 'cross-origin');
    if (ifNoneMatchHas(c.req.header('if-none-match'), `"${name}"`)) return c.body(null, 304);
    c.header('Content-Type', 'image/png');
    return c.body(new Uint8Array(bytes));
  };

  book.add(
    {
      method: 'get',
      path: `${SHOP}/artworks/{artwork}/preview.png`,
      id: 'artworkPreview',
      tag: 'Customers',
      summary: 'A picture of an artwork, at most 1600 px a side',
      params: ArtworkPath,
      answers: { 200: { description: 'The picture, straight alpha', media: 'image/png' } },
      problems: ['not-found'],
    },
    (c, { params }) =>
      picture(c, async () => {
        const found = await artworks.withRemedies(c.get('head').shop, params.artwork, []);
        return found === undefined || isRefusal(found) ? undefined : found.raster.preview;
      }),
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/artworks/{artwork}/mended/{picture}`,
      id: 'mendedPreview',
      tag: 'Customers',
      summary: 'A picture of an artwork with its mends, at most 1600 px a side',
      params: ArtworkPath.extend({ picture: z.string().regex(/^[0-9a-f]{64}\.png$/) }),
      answers: { 200: { description: 'The picture, straight alpha', media: 'image/png' } },
      problems: ['not-found'],
    },
    (c, { params }) =>
      picture(c, async () => {
        const hash = params.picture.slice(0, -'.png'.length);
        return (await deps.store.artworks.raster(c.get('head').shop, params.artwork, hash))?.preview;
      }),
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/artworks/{artwork}/original`,
      id: 'artworkOriginal',
      tag: 'Owners',
      summary: 'The file as its customer sent it',
      params: ArtworkPath,
      answers: { 200: { description: 'The bytes', media: 'application/octet-stream' } },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { params }) => {
      const { shop } = c.get('head');
      const artwork = await deps.store.artworks.get(shop, params.artwork);
      const bytes = artwork === undefined ? null : await artworks.bytes(shop, artwork.id);
      if (artwork === undefined || bytes === null) throw noArtwork();
      c.header('Content-Security-Policy', SANDBOX);
      // Save it, whatever it is; never open it in the browser.
      c.header('Content-Type', 'application/octet-stream');
      c.header('Content-Disposition', `attachment; filename*=UTF-8''${percentEncoded(artwork.name)}`);
      return c.body(new Uint8Array(bytes));
    },
  );

  book.add(
    {
      method: 'delete',
      path: `${SHOP}/owner/artworks/{artwork}`,
      id: 'removeArtwork',
      tag: 'Owners',
      summary: 'Take an artwork away for good',
      params: ArtworkPath,
      answers: { 204: { description: 'It is gone, with all pictures of it' } },
      problems: ['not-found', 'artwork-in-use'],
      keyed: true,
    },
    async (c, { params }) => {
      requireRole('owner', c.get('key').role);
      switch (await artworks.remove(c.get('head').shop, params.artwork)) {
        case 'removed':
          return c.body(null, 204);
        case 'unknown':
          throw noArtwork();
        case 'in-use':
          throw new ProblemError('artwork-in-use', 'an order is made from this artwork; it must stay');
      }
    },
  );
}

function noArtwork(): ProblemError {
  return new ProblemError('not-found', 'there is no such artwork here');
}

/** Percent-encodes a value for a header. @see RFC 8187 */
function percentEncoded(name: string): string {
  return encodeURIComponent(name).replace(
    /['()*]/g,
    (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}
