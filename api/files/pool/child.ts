/** Entry of the pool's processes: takes one job at a time from file descriptor 3 and answers there. */
import { Socket } from 'node:net';
import sharp from 'sharp';
import { doJob, type JobRequest } from '../jobs.ts';
import { loadPdfRenderer } from '../pdf/read-pdf.ts';
import { onMessages, sendMessage } from './frames.ts';
import { type FromChild, MAX_MESSAGE_BYTES } from './protocol.ts';

sharp.cache(false);
// The other processes of the pool use the other cores.
sharp.concurrency(1);

// No file may reach the network.
Object.defineProperty(globalThis, 'fetch', {
  value: () => Promise.reject(new Error('files are read without a network')),
});

const pipe = new Socket({ fd: 3, readable: true, writable: true });
const send = (message: FromChild, blobs: readonly Uint8Array[] = []): Promise<void> =>
  sendMessage(pipe, message, blobs);

// Exit with the server.
pipe.on('close', () => process.exit(0));
pipe.on('error', () => process.exit(1));

onMessages(pipe, MAX_MESSAGE_BYTES, ({ value, blobs }) => {
  void run(value as JobRequest, blobs);
});

async function run(request: JobRequest, blobs: readonly Uint8Array[]): Promise<void> {
  try {
    const done = await doJob(request, blobs, (pixels) => void send({ type: 'pixels', pixels }));
    await send({ type: 'done', answer: done.answer }, 'blobs' in done ? done.blobs : []);
  } catch (error) {
    await send({
      type: 'fault',
      message: error instanceof Error ? `${error.name}: ${error.message}` : String(error),
    });
  }
  // Pixels are outside the heap, so the collector does not notice how large they are.
  globalThis.gc?.();
}

await loadPdfRenderer();
await send({ type: 'ready' });
