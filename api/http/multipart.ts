import { Busboy } from '@fastify/busboy';
import { concatChunks } from './concat-chunks.ts';

/** One part of a form: a file, or a text field (`file` is null), of which only the name is kept. */
export type FormPart = {
  readonly name: string;
  readonly file: { readonly name: string; readonly bytes: Uint8Array } | null;
};

/** Further parts are ignored. */
const MAX_PARTS = 20;
const MAX_TEXT_BYTES = 1024;

/** The body is not a valid form. */
export class FormError extends Error {}

/**
 * The parts of a multipart form (RFC 7578), parsed chunk by chunk, so that a large file never blocks the event loop for
 * longer than a chunk takes.
 *
 * @param type the content type, with the boundary
 * @param maxBytes of a file; a longer one is cut after one byte more
 * @throws FormError if this is not a form, or its end is missing; whatever `chunks` throws
 */
export async function readForm(
  chunks: AsyncIterable<Uint8Array>,
  type: string,
  maxBytes: number,
): Promise<readonly FormPart[]> {
  let form: InstanceType<typeof Busboy>;
  try {
    form = new Busboy({
      headers: { 'content-type': type },
      limits: { parts: MAX_PARTS, fileSize: maxBytes + 1, fieldSize: MAX_TEXT_BYTES },
    });
  } catch {
    throw new FormError('the content type has no boundary');
  }
  let failed: Error | null = null;
  const ended = new Promise<void>((resolve) => {
    form.on('error', (error) => {
      failed ??= error instanceof Error ? error : new Error(String(error));
      resolve();
    });
    form.on('finish', resolve);
  });
  const parts: { name: string; file: { name: string; chunks: Uint8Array[] } | null }[] = [];
  form.on('field', (name) => parts.push({ name, file: null }));
  form.on('file', (name, stream, fileName) => {
    const chunks: Uint8Array[] = [];
    parts.push({ name, file: { name: fileName ?? '', chunks } });
    stream.on('data', (chunk: Buffer) => chunks.push(chunk));
    stream.on('error', (error) => {
      failed ??= error;
    });
  });
  for await (const chunk of chunks) {
    // Drain the rest of a broken form, so that the sender can read the answer.
    if (failed === null) await new Promise<void>((resolve) => form.write(chunk, () => resolve()));
  }
  form.end();
  await ended;
  if (failed !== null) throw new FormError('the form cannot be read');
  const read: FormPart[] = [];
  for (const { name, file } of parts)
    read.push({ name, file: file && { name: file.name, bytes: await concatChunks(file.chunks) } });
  return read;
}
