import { setImmediate } from 'node:timers/promises';

/** Bytes copied before the event loop may go on: about 1 ms of work, including new memory. */
const COPY_BYTES = 2 * 1024 * 1024;

/** Concatenates chunks without blocking the event loop for long. A single chunk is returned as it is. */
export async function concatChunks(chunks: readonly Uint8Array[]): Promise<Uint8Array> {
  if (chunks.length === 1) return chunks[0]!;
  const whole = Buffer.allocUnsafeSlow(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let at = 0;
  let copied = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
    copied += chunk.length;
    if (copied < COPY_BYTES) continue;
    copied = 0;
    await setImmediate();
  }
  return whole;
}
