import { Busboy } from '@fastify/busboy';
import { concatChunks } from './concat-chunks.ts';

/** One part of a form: a file with its bytes, or a text, of which only the name matters here. */
export type FormPart = {
  readonly name: string;
  readonly file: { readonly name: string; readonly bytes: Uint8Array } | null;
};

/** More parts than this are not told one by one. */
const MAX_PARTS = 20;
const MAX_TEXT_BYTES = 1024;

/** Thrown for bytes that are no form. */
export class FormError extends Error {}

/**
 * The parts of a multipart form (RFC 7578), taken apart as its pieces come: a large file never holds the event loop for
 * longer than a piece of it takes.
 *
 * @param type the content type, with the boundary.
 * @param bytesMost of a file; what goes beyond is left out, and makes it longer by one.
 * @throws FormError when this is no form, or the end of it is missing. What `pieces` throws goes on as it is.
 */
export async function readForm(
  pieces: AsyncIterable<Uint8Array>,
  type: string,
  bytesMost: number,
): Promise<readonly FormPart[]> {
  let form: InstanceType<typeof Busboy>;
  try {
    form = new Busboy({
      headers: { 'content-type': type },
      limits: { parts: MAX_PARTS, fileSize: bytesMost + 1, fieldSize: MAX_TEXT_BYTES },
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
  for await (const piece of pieces) {
    // What is left of a form that is none is still taken off the wire, so that the sender reads the answer.
    if (failed === null) await new Promise<void>((resolve) => form.write(piece, () => resolve()));
  }
  form.end();
  await ended;
  if (failed !== null) throw new FormError('the form cannot be read');
  const told: FormPart[] = [];
  for (const { name, file } of parts)
    told.push({ name, file: file && { name: file.name, bytes: await concatChunks(file.chunks) } });
  return told;
}
