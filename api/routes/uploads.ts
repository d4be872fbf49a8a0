import { z } from 'zod';
import { isRefusal, type UploadState } from '../files/index.ts';
import { bodyChunks, readBytes } from '../http/body.ts';
import type { AppContext } from '../http/env.ts';
import { faultAt, fileProblem, ProblemError, tooLarge, truncatedBody } from '../http/problem.ts';
import {
  byteCount,
  PART_TYPE,
  readChecksum,
  readMetadata,
  requireVersion,
  TUS_CHECKSUMS,
  TUS_EXTENSIONS,
  TUS_VERSION,
} from '../http/tus.ts';
import { ActiveParts } from '../http/upload.ts';
import { type RouteContext, SHOP, shopBase } from './context.ts';

/** How long a part may go on after its sender asks for the offset again, having lost the connection. */
const PART_GRACE_MS = 1000;

const UploadPath = z.object({ upload: z.string().regex(/^[0-9a-f]{32}$/) });
const version = z.literal(TUS_VERSION).meta({ description: 'version of the protocol' });
const bytes = z.string().regex(/^\d{1,15}$/);
const STATE_HEADERS = {
  'Tus-Resumable': 'version of the protocol',
  'Upload-Offset': 'bytes that are here',
  'Upload-Length': 'bytes of the whole file',
  'Upload-Expires': 'when it is given up (an HTTP date)',
  'Content-Location': 'the artwork, once the last part is here and was read',
};

/** Resumable uploads of artwork, by tus 1.0, so that any tus client can be used. */
export function uploadRoutes({ book, deps, artworks, gate }: RouteContext): void {
  const { fileBytes } = deps.limits;
  const active = new ActiveParts();
  const tag = 'Customers';

  book.add(
    {
      method: 'options',
      path: `${SHOP}/uploads`,
      id: 'uploadProtocol',
      tag,
      summary: 'What of the upload protocol is spoken',
      answers: {
        204: {
          description: 'In the headers',
          headers: {
            'Tus-Version': TUS_VERSION,
            'Tus-Extension': TUS_EXTENSIONS,
            'Tus-Max-Size': 'largest file, bytes',
            'Tus-Checksum-Algorithm': TUS_CHECKSUMS,
          },
        },
      },
      problems: [],
    },
    (c) => {
      c.header('Tus-Resumable', TUS_VERSION);
      c.header('Tus-Version', TUS_VERSION);
      c.header('Tus-Extension', TUS_EXTENSIONS);
      c.header('Tus-Max-Size', String(fileBytes));
      c.header('Tus-Checksum-Algorithm', TUS_CHECKSUMS);
      return c.body(null, 204);
    },
  );

  book.add(
    {
      method: 'post',
      path: `${SHOP}/uploads`,
      id: 'beginUpload',
      tag,
      summary: 'Begin an artwork that comes in parts',
      description:
        'By the tus protocol 1.0.0 with creation, expiration, termination and checksum. Upload-Metadata may hold `filename` and `sha256` (64 hexadecimal digits: the whole file is then checked). An upload is given up after a day, or after an hour when nothing of it came.',
      headers: z.object({
        'tus-resumable': version,
        'upload-length': bytes.meta({ description: 'bytes of the whole file' }),
        'upload-metadata': z
          .string()
          .optional()
          .meta({ description: 'keys, each with its value in Base64, parted by commas' }),
      }),
      answers: {
        201: {
          description: 'Send its parts to Location',
          headers: {
            Location: 'address of the upload; whoever has it may send to it',
            'Upload-Expires': STATE_HEADERS['Upload-Expires'],
          },
        },
      },
      problems: ['upload-protocol', 'invalid-input', 'too-large', 'busy'],
    },
    async (c) => {
      requireVersion(c);
      const lengthBytes = byteCount(c, 'upload-length');
      if (lengthBytes > fileBytes) throw tooLarge(fileBytes);
      if (lengthBytes === 0) throw faultAt('upload-length', 'the file has no bytes', 0, 'at least 1 byte');
      const metadata = c.req.header('upload-metadata') ?? '';
      const described = readMetadata(metadata);
      await readBytes(c, 0);
      const { shop } = c.get('head');
      const id = deps.randomBytes(16).toString('hex');
      const createdMs = deps.now();
      const started = await deps
        .partialsOf(shop)
        .begin(id, { lengthBytes, metadata, createdMs, ...described });
      if (!started)
        throw new ProblemError('busy', 'too many files are on their way; send it whole, or again later', {
          headers: { 'Retry-After': '60' },
        });
      c.header('Location', `${shopBase(shop)}/uploads/${id}`);
      c.header('Upload-Expires', new Date(createdMs + deps.limits.partial.idleAgeMs).toUTCString());
      return c.body(null, 201);
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/uploads/{upload}`,
      id: 'uploadStanding',
      tag,
      summary: 'How much of an upload is here',
      description:
        'Asked with HEAD, as the tus protocol has it: a sender who asks has lost its connection, so a part still being received ends there, and what came of it is kept. GET gives the same headers and ends nothing.',
      params: UploadPath,
      headers: z.object({ 'tus-resumable': version }),
      answers: { 200: { description: 'In the headers', headers: STATE_HEADERS } },
      problems: ['upload-protocol', 'not-found'],
    },
    async (c, { params }) => {
      // Store first what arrived before the connection broke.
      if (c.req.method === 'HEAD')
        await active.settle(`${c.get('head').shop} ${params.upload}`, PART_GRACE_MS);
      const state = await find(c, params.upload);
      setStateHeaders(c, state);
      c.header('Upload-Length', String(state.lengthBytes));
      if (state.metadata !== '') c.header('Upload-Metadata', state.metadata);
      return c.body(null, 200);
    },
  );

  book.add(
    {
      method: 'patch',
      path: `${SHOP}/uploads/{upload}`,
      id: 'sendPart',
      tag,
      summary: 'Send the next part',
      description:
        'What came before a connection was cut is kept (not so with Upload-Checksum, which is of the whole part). The last part has the file read and measured, and answers what `sendArtwork` would have refused; sent again with nothing in it, it tries that again.',
      params: UploadPath,
      headers: z.object({
        'tus-resumable': version,
        'upload-offset': bytes.meta({ description: 'where the part starts: what HEAD answered' }),
        'upload-checksum': z
          .string()
          .optional()
          .meta({ description: '`sha1` or `sha256`, a space, and the hash of the part in Base64' }),
      }),
      rawBody: { [PART_TYPE]: { schema: { type: 'string', format: 'binary' } } },
      answers: { 204: { description: 'Kept', headers: STATE_HEADERS } },
      problems: [
        'upload-protocol',
        'upload-offset',
        'upload-altered',
        'not-found',
        'invalid-input',
        'too-large',
        'unsupported-media',
        'unsupported-file',
        'unreadable-file',
        'busy',
      ],
    },
    (c, { params }) =>
      active.run(`${c.get('head').shop} ${params.upload}`, (stop) => receive(c, params.upload, stop)),
  );

  book.add(
    {
      method: 'delete',
      path: `${SHOP}/uploads/{upload}`,
      id: 'endUpload',
      tag,
      summary: 'Give an upload up',
      params: UploadPath,
      headers: z.object({ 'tus-resumable': version }),
      answers: { 204: { description: 'Its parts are gone; an artwork made of it stays' } },
      problems: ['upload-protocol', 'not-found'],
    },
    async (c, { params }) => {
      const { id } = await find(c, params.upload);
      await deps.partialsOf(c.get('head').shop).remove(id);
      return c.body(null, 204);
    },
  );

  async function receive(c: AppContext, id: string, stop: AbortSignal): Promise<Response> {
    const state = await find(c, id);
    const type = c.req.header('content-type');
    if (type?.trim().toLowerCase() !== PART_TYPE)
      throw new ProblemError('unsupported-media', `the content type must be ${PART_TYPE}`);
    const offset = byteCount(c, 'upload-offset');
    const checksum = readChecksum(c.req.header('upload-checksum'));
    if (offset !== state.offset) throw wrongOffset(offset, state.offset);
    const chunks = bodyChunks(c, state.lengthBytes - state.offset, stop);
    const { shop } = c.get('head');
    if (state.artwork !== null) {
      for await (const _ of chunks);
      setStateHeaders(c, state);
      return c.body(null, 204);
    }
    const outcome = await deps.partialsOf(shop).storePart(state, chunks, checksum);
    switch (outcome.kind) {
      case 'gone':
        throw uploadGone();
      case 'wrong-offset':
        throw wrongOffset(offset, outcome.offset);
      case 'checksum-mismatch':
        throw new ProblemError('upload-altered', 'the part is not what its checksum says; send it again');
      case 'too-many-parts':
        throw faultAt(
          'body',
          'the file came in too many parts',
          deps.limits.partial.parts,
          'fewer, larger parts',
        );
      case 'stored': {
        if (outcome.truncated) throw truncatedBody();
        const now = { ...state, offset: outcome.offset };
        setStateHeaders(
          c,
          now.offset === now.lengthBytes ? { ...now, artwork: await finish(shop, now) } : now,
        );
        return c.body(null, 204);
      }
    }
  }

  async function find(c: AppContext, id: string): Promise<UploadState> {
    requireVersion(c);
    const state = await deps.partialsOf(c.get('head').shop).state(id, deps.now());
    if (state === null) throw uploadGone();
    return state;
  }

  /** Reads the whole file. A refused file's upload is removed, unless the reader was only busy. */
  function finish(shop: string, state: UploadState): Promise<string> {
    return gate.run(async () => {
      const partials = deps.partialsOf(shop);
      const whole = await partials.bytes(state);
      // Another process may have finished it first.
      if (whole === null) {
        const artwork = (await partials.state(state.id, deps.now()))?.artwork;
        if (artwork) return artwork;
        throw new ProblemError('not-found', 'parts of the upload are gone; begin anew');
      }
      const added = await artworks.addIfIntact(shop, whole, state.name, state.sha256);
      if (added === 'altered') {
        await partials.remove(state.id);
        throw new ProblemError('upload-altered', 'the file is not what its sha256 says; begin anew');
      }
      if (isRefusal(added)) {
        if (added.refused !== 'busy') await partials.remove(state.id);
        throw fileProblem(added);
      }
      await partials.finish(state.id, added.artwork.id);
      return added.artwork.id;
    });
  }

  function setStateHeaders(c: AppContext, state: UploadState): void {
    c.header('Upload-Offset', String(state.offset));
    c.header('Upload-Expires', new Date(state.expiresMs).toUTCString());
    c.header('Cache-Control', 'no-store');
    if (state.artwork !== null)
      c.header('Content-Location', `${shopBase(c.get('head').shop)}/artworks/${state.artwork}`);
  }
}

function uploadGone(): ProblemError {
  return new ProblemError('not-found', 'there is no such upload here (any more)');
}

function wrongOffset(offset: number, here: number): ProblemError {
  return new ProblemError('upload-offset', `the part starts at ${offset}; ${here} bytes are here`, {
    headers: { 'Upload-Offset': String(here) },
    members: { offset: here },
  });
}
