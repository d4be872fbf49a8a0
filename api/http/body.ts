import type { IncomingMessage } from 'node:http';
import type { z } from 'zod';
import { shapeFaults } from '../../src/contract/index.ts';
import { TruncatedBodyError } from '../files/index.ts';
import { concatChunks } from './concat-chunks.ts';
import type { AppContext } from './env.ts';
import { ProblemError, tooLarge, truncatedBody } from './problem.ts';

/** How much of a refused body is drained, and for how long, so that the sender can read our answer. */
const MAX_DRAIN_BYTES = 2 * 1024 * 1024 * 1024;
const DRAIN_MS = 60_000;
/** A body up to this size is read in one call. */
const AT_ONCE_BYTES = 256 * 1024;

/**
 * The body's bytes. Unlike `hono/body-limit`, this drains the rest of a body that is too large: a sender whose connection
 * is reset while it sends never reads the answer.
 * @throws ProblemError `too-large`, as soon as that is known
 */
export async function readBytes(c: AppContext, limitBytes: number): Promise<Uint8Array> {
  const claimed = c.req.header('content-length');
  const incoming = c.env?.incoming;
  if (claimed !== undefined && /^\d+$/.test(claimed)) {
    if (Number(claimed) > limitBytes) {
      if (incoming !== undefined) drain(incoming);
      throw tooLarge(limitBytes);
    }
    // node:http passes on exactly as many bytes as the header claims.
    if (incoming !== undefined && Number(claimed) <= AT_ONCE_BYTES) return new Uint8Array(await readAll(c));
  }
  return concatChunks(
    await (incoming === undefined
      ? fromStream(c.req.raw.body, limitBytes)
      : fromIncoming(incoming, limitBytes)),
  );
}

async function readAll(c: AppContext): Promise<ArrayBuffer> {
  try {
    return await c.req.arrayBuffer();
  } catch {
    throw truncatedBody();
  }
}

function fromIncoming(incoming: IncomingMessage, limitBytes: number): Promise<Uint8Array[]> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    let bytes = 0;
    const settle = (): void => {
      incoming.off('data', onData);
      incoming.off('end', onEnd);
      incoming.off('error', onClose);
      incoming.off('close', onClose);
    };
    const onData = (chunk: Buffer): void => {
      bytes += chunk.length;
      if (bytes <= limitBytes) {
        chunks.push(chunk);
        return;
      }
      settle();
      drain(incoming);
      reject(tooLarge(limitBytes));
    };
    const onEnd = (): void => {
      settle();
      resolve(chunks);
    };
    const onClose = (): void => {
      settle();
      reject(truncatedBody());
    };
    incoming.on('data', onData);
    incoming.on('end', onEnd);
    incoming.on('error', onClose);
    incoming.on('close', onClose);
  });
}

async function fromStream(
  stream: ReadableStream<Uint8Array> | null,
  limitBytes: number,
): Promise<Uint8Array[]> {
  if (stream === null) return [];
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for await (const chunk of stream) {
    bytes += chunk.length;
    if (bytes > limitBytes) throw tooLarge(limitBytes);
    chunks.push(chunk);
  }
  return chunks;
}

/**
 * The body as a stream, for bodies too big to hold in memory.
 * @param stop aborts reading, as if the connection had broken
 * @throws ProblemError `too-large`, as `readBytes`; TruncatedBodyError if the connection breaks before the end
 */
export async function* bodyChunks(
  c: AppContext,
  limitBytes: number,
  stop: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const incoming = c.env?.incoming;
  let bytes = Number(c.req.header('content-length') ?? 0);
  const refuse = (): ProblemError => {
    if (incoming !== undefined) drain(incoming);
    return tooLarge(limitBytes);
  };
  if (bytes > limitBytes) throw refuse();
  const source: AsyncIterable<Uint8Array> | null =
    incoming === undefined ? c.req.raw.body : incoming.iterator({ destroyOnReturn: false });
  if (source === null) return;
  bytes = 0;
  const chunks = source[Symbol.asyncIterator]();
  const stopped = new Promise<never>((_, fail) => {
    stop.addEventListener('abort', () => fail(stop.reason), { once: true });
  });
  for (;;) {
    const next = await Promise.race([chunks.next(), stopped]).catch(() => {
      incoming?.destroy();
      throw new TruncatedBodyError('the body ended before it was whole');
    });
    if (next.done) return;
    bytes += next.value.length;
    if (bytes > limitBytes) {
      await chunks.return?.();
      throw refuse();
    }
    yield next.value;
  }
}

function drain(incoming: IncomingMessage): void {
  let bytes = 0;
  const stop = (): void => {
    clearTimeout(timer);
    incoming.socket.destroy();
  };
  const timer = setTimeout(stop, DRAIN_MS);
  timer.unref();
  incoming.on('data', (chunk: Buffer) => {
    bytes += chunk.length;
    if (bytes > MAX_DRAIN_BYTES) stop();
  });
  incoming.once('end', () => clearTimeout(timer));
  incoming.once('close', () => clearTimeout(timer));
  incoming.on('error', () => {});
  incoming.resume();
}

const utf8 = new TextDecoder('utf-8', { fatal: true });

/**
 * The text of a JSON body, not parsed yet.
 * @throws ProblemError `unsupported-media`, `too-large` or `malformed-json`
 */
export async function readText(c: AppContext, limitBytes: number): Promise<string> {
  const type = c.req.header('content-type');
  if (type === undefined || !/^application\/([\w.+-]+\+)?json\s*(;|$)/i.test(type.trim()))
    throw new ProblemError(
      'unsupported-media',
      `the content type is ${type === undefined ? 'not given' : `"${type.slice(0, 100)}"`}; it must be application/json`,
    );
  const bytes = await readBytes(c, limitBytes);
  if (bytes.length === 0)
    throw new ProblemError('malformed-json', 'the body is empty; it must be one JSON value');
  try {
    return utf8.decode(bytes);
  } catch {
    throw new ProblemError('malformed-json', 'the body is not UTF-8 text');
  }
}

/** Parses one JSON value. @throws ProblemError `malformed-json` */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new ProblemError(
      'malformed-json',
      `the body is not JSON: ${(error as Error).message.slice(0, 200)}`,
    );
  }
}

/** Reads and parses a JSON body. @throws ProblemError as `readText` and `parseJson` */
export async function readJson(c: AppContext, limitBytes: number): Promise<unknown> {
  return parseJson(await readText(c, limitBytes));
}

/** Parses a body by a schema; the problem lists every fault. @throws ProblemError `malformed-json` or `invalid-input` */
export function parseBody<T extends z.ZodType>(text: string, schema: T): z.output<T> {
  const value = parseJson(text);
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw invalidInput(parsed.error, value);
}

/** A problem that lists the faults a schema found. @param at where the value is in the request */
export function invalidInput(error: z.ZodError, value: unknown, at = ''): ProblemError {
  const faults = shapeFaults(error, value).map((fault) =>
    at === '' ? fault : { ...fault, at: fault.at === '' ? at : `${at}.${fault.at}` },
  );
  const [first] = faults;
  const place = first === undefined || first.at === '' ? 'the body' : first.at;
  return new ProblemError('invalid-input', `${place}: ${first?.message ?? 'not as it must be'}`, { faults });
}
