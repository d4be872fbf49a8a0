import type { IncomingMessage } from 'node:http';
import type { z } from 'zod';
import { shapeFaults } from '../../src/contract/index.ts';
import { TruncatedBodyError } from '../files/index.ts';
import { concatChunks } from './concat-chunks.ts';
import type { AppContext } from './env.ts';
import { ProblemError, tooLarge, truncatedBody } from './problem.ts';

/** What of a refused body is still taken off the wire, and for how long, so that the sender reads our answer. */
const MAX_DRAIN_BYTES = 2 * 1024 * 1024 * 1024;
const DRAIN_MS = 60_000;
/** A body up to this long is put together at once. */
const AT_ONCE_BYTES = 256 * 1024;

/**
 * The body's bytes.
 * @throws ProblemError `too-large` as soon as that is known. What the sender still sends is then thrown away rather than the
 * connection cut: a sender whose connection is reset while it sends never reads the answer.
 */
export async function readBytes(c: AppContext, limitBytes: number): Promise<Uint8Array> {
  const claimed = c.req.header('content-length');
  const incoming = c.env?.incoming;
  if (claimed !== undefined && /^\d+$/.test(claimed)) {
    if (Number(claimed) > limitBytes) {
      if (incoming !== undefined) drain(incoming);
      throw tooLarge(limitBytes);
    }
    // node:http hands on exactly as many bytes as were claimed.
    if (incoming !== undefined && Number(claimed) <= AT_ONCE_BYTES) return new Uint8Array(await whole(c));
  }
  return concatChunks(
    await (incoming === undefined
      ? fromStream(c.req.raw.body, limitBytes)
      : fromIncoming(incoming, limitBytes)),
  );
}

async function whole(c: AppContext): Promise<ArrayBuffer> {
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
      incoming.off('data', take);
      incoming.off('end', end);
      incoming.off('error', cut);
      incoming.off('close', cut);
    };
    const take = (chunk: Buffer): void => {
      bytes += chunk.length;
      if (bytes <= limitBytes) {
        chunks.push(chunk);
        return;
      }
      settle();
      drain(incoming);
      reject(tooLarge(limitBytes));
    };
    const end = (): void => {
      settle();
      resolve(chunks);
    };
    const cut = (): void => {
      settle();
      reject(truncatedBody());
    };
    incoming.on('data', take);
    incoming.on('end', end);
    incoming.on('error', cut);
    incoming.on('close', cut);
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
 * The body as it comes, for what is too big to hold.
 * @param stop when it fires, the sender counts as gone
 * @throws ProblemError `too-large`, as `readBytes`; CutError when the sender is gone before the end
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
  const pieces = source[Symbol.asyncIterator]();
  const stopped = new Promise<never>((_, fail) => {
    stop.addEventListener('abort', () => fail(stop.reason), { once: true });
  });
  for (;;) {
    const next = await Promise.race([pieces.next(), stopped]).catch(() => {
      incoming?.destroy();
      throw new TruncatedBodyError('the body ended before it was whole');
    });
    if (next.done) return;
    bytes += next.value.length;
    if (bytes > limitBytes) {
      await pieces.return?.();
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
 * The body of JSON as it came, not read yet.
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

/** The body as one JSON value, unchecked. @throws ProblemError `malformed-json` */
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

/** Both at once. @throws ProblemError, as they do */
export async function readJson(c: AppContext, limitBytes: number): Promise<unknown> {
  return parseJson(await readText(c, limitBytes));
}

/** A body as what a schema says, all faults told at once. @throws ProblemError `malformed-json` or `invalid-input` */
export function parseBody<T extends z.ZodType>(text: string, schema: T): z.output<T> {
  const value = parseJson(text);
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw invalidInput(parsed.error, value);
}

/** Faults of shape as a problem. */
export function invalidInput(error: z.ZodError, value: unknown, at = ''): ProblemError {
  const faults = shapeFaults(error, value).map((fault) =>
    at === '' ? fault : { ...fault, at: fault.at === '' ? at : `${at}.${fault.at}` },
  );
  const [first] = faults;
  const place = first === undefined || first.at === '' ? 'the body' : first.at;
  return new ProblemError('invalid-input', `${place}: ${first?.message ?? 'not as it must be'}`, { faults });
}
