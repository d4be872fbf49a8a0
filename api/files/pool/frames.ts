import type { Duplex } from 'node:stream';

/**
 * A message between the pool and its processes: a JSON value and blobs. On the wire: the length of the JSON (4 bytes,
 * big-endian), the JSON with the lengths of the blobs, then the blobs.
 */
export type Message = { readonly value: unknown; readonly blobs: readonly Uint8Array[] };

type Head = { readonly value: unknown; readonly lengths: readonly number[] };

const LENGTH_BYTES = 4;
/** Blobs are written in chunks, so that none is copied at once. */
const CHUNK_BYTES = 256 * 1024;

/** Sends one message; resolves once the stream has taken all of it. Never blocks the event loop for more than a chunk. */
export async function sendMessage(
  stream: Duplex,
  value: unknown,
  blobs: readonly Uint8Array[],
): Promise<void> {
  const head = Buffer.from(
    JSON.stringify({ value, lengths: blobs.map((blob) => blob.length) } satisfies Head),
  );
  const length = Buffer.alloc(LENGTH_BYTES);
  length.writeUInt32BE(head.length);
  await write(stream, Buffer.concat([length, head]));
  for (const blob of blobs)
    for (let at = 0; at < blob.length; at += CHUNK_BYTES)
      await write(stream, blob.subarray(at, at + CHUNK_BYTES));
}

function write(stream: Duplex, bytes: Uint8Array): Promise<void> {
  return new Promise((resolve, reject) => {
    stream.write(bytes, (error) => (error == null ? resolve() : reject(error)));
  });
}

/**
 * Calls back with each message. Bytes are copied to their place as they arrive.
 * @param maxBytes of one message; a larger one, which only a broken process would send, destroys the stream
 */
export function onMessages(stream: Duplex, maxBytes: number, take: (message: Message) => void): void {
  let reader = startReader(maxBytes);
  stream.on('data', (chunk: Buffer) => {
    let rest: Buffer = chunk;
    while (rest.length > 0) {
      let message: Message | null;
      try {
        rest = rest.subarray(reader.feed(rest));
        message = reader.done();
      } catch (error) {
        stream.destroy(error instanceof Error ? error : new Error('malformed message'));
        return;
      }
      if (message !== null) {
        reader = startReader(maxBytes);
        take(message);
      }
    }
  });
}

type Reader = { feed(chunk: Buffer): number; done(): Message | null };

function startReader(maxBytes: number): Reader {
  const lengthPart = new Part(LENGTH_BYTES);
  let headPart: Part | null = null;
  let head: Head | null = null;
  const blobParts: Part[] = [];

  const advance = (): Part | null => {
    if (!lengthPart.full) return lengthPart;
    if (headPart === null) headPart = new Part(bounded(lengthPart.bytes.readUInt32BE(), maxBytes));
    if (!headPart.full) return headPart;
    if (head === null) {
      head = JSON.parse(headPart.bytes.toString('utf8')) as Head;
      bounded(
        head.lengths.reduce((sum, length) => sum + length, 0),
        maxBytes,
      );
      blobParts.push(...head.lengths.map((length) => new Part(length)));
    }
    return blobParts.find((part) => !part.full) ?? null;
  };

  return {
    feed(chunk) {
      const part = advance();
      return part === null ? 0 : part.take(chunk);
    },
    done() {
      if (advance() !== null || head === null) return null;
      return { value: head.value, blobs: blobParts.map((part) => part.bytes) };
    },
  };
}

function bounded(length: number, most: number): number {
  if (!(length >= 0 && length <= most)) throw new Error(`a message of ${length} bytes; ${most} are allowed`);
  return length;
}

class Part {
  readonly bytes: Buffer;
  #filled = 0;

  constructor(length: number) {
    this.bytes = Buffer.allocUnsafeSlow(length);
  }

  get full(): boolean {
    return this.#filled === this.bytes.length;
  }

  take(chunk: Buffer): number {
    const used = chunk.copy(this.bytes, this.#filled);
    this.#filled += used;
    return used;
  }
}
