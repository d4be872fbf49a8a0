import type { Limits } from '../deps.ts';
import { TruncatedBodyError } from '../files/index.ts';
import { bodyChunks, readBytes } from './body.ts';
import type { AppContext } from './env.ts';
import { FormError, type FormPart, readForm } from './multipart.ts';
import { faultAt, ProblemError, tooLarge, truncatedBody } from './problem.ts';

/** Room for the boundaries and headers of a form around its file. */
const FORM_EXTRA_BYTES = 64 * 1024;
const MAX_NAME_CHARS = 200;

/** A file as received. The sender chose its name; the declared type is ignored. */
export type UploadedFile = { readonly bytes: Uint8Array; readonly name: string };

/** Bounds how many files are received at once, since each is held in memory. */
export class UploadGate {
  readonly #max: number;
  #active = 0;

  constructor(most: number) {
    this.#max = most;
  }

  /** @throws ProblemError `busy` if too many are running */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.#active >= this.#max)
      throw new ProblemError('busy', 'too many files are being received; send it again shortly', {
        headers: { 'Retry-After': '2' },
      });
    this.#active++;
    try {
      return await work();
    } finally {
      this.#active--;
    }
  }
}

/** Parts of uploads being received by this process, so that a request for the offset can wait until they are stored. */
export class ActiveParts {
  readonly #running = new Map<string, Set<{ readonly stop: AbortController; done: Promise<unknown> }>>();

  /** @param work gets a signal to stop and store what has arrived */
  async run<T>(key: string, work: (stop: AbortSignal) => Promise<T>): Promise<T> {
    const stop = new AbortController();
    const done = work(stop.signal);
    const part = { stop, done };
    const all = this.#running.get(key) ?? new Set();
    this.#running.set(key, all.add(part));
    try {
      return await done;
    } finally {
      all.delete(part);
      if (all.size === 0) this.#running.delete(key);
    }
  }

  /** Waits until none is running; those still running after `ms` are told to stop. */
  async settle(key: string, ms: number): Promise<void> {
    const all = [...(this.#running.get(key) ?? [])];
    const timeout = setTimeout(() => {
      for (const { stop } of all) stop.abort();
    }, ms);
    await Promise.allSettled(all.map(({ done }) => done));
    clearTimeout(timeout);
  }
}

/**
 * The file of a request: the part `file` of a form, or the body itself with its name in Content-Disposition.
 * @throws ProblemError if there is not exactly one file, or it is too large
 */
export async function readFile(c: AppContext, limits: Limits): Promise<UploadedFile> {
  const type = c.req.header('content-type') ?? '';
  if (/^multipart\/form-data\b/i.test(type)) return fromForm(c, type, limits);
  if (/^application\/(json|x-www-form-urlencoded)\b/i.test(type))
    throw new ProblemError(
      'unsupported-media',
      `the content type is "${type.slice(0, 100)}"; send multipart/form-data with one part "file", or the file itself`,
    );
  const bytes = await readBytes(c, limits.fileBytes);
  return { bytes, name: cleanName(nameInHeader(c.req.header('content-disposition'))) };
}

async function fromForm(c: AppContext, type: string, limits: Limits): Promise<UploadedFile> {
  const parts = await partsOf(c, type, limits.fileBytes);
  const other = parts.find(({ name }) => name !== 'file');
  if (other !== undefined)
    throw faultAt(
      other.name.slice(0, 80),
      'the form has a part of another name',
      new Set(parts.map(({ name }) => name).filter((name) => name !== 'file')).size,
      'one part named "file"',
    );
  if (parts.length > 1)
    throw faultAt(
      'file',
      `the form has ${parts.length} files; send one at a time`,
      parts
        .map(({ file }) => cleanName(file?.name ?? ''))
        .join(', ')
        .slice(0, MAX_NAME_CHARS),
      'one part named "file"',
    );
  const [part] = parts;
  if (part === undefined || part.file === null)
    throw faultAt(
      'file',
      'the form has no file',
      part === undefined ? 'nothing' : 'a text',
      'one part named "file"',
    );
  const { bytes, name } = part.file;
  if (bytes.length > limits.fileBytes) throw tooLarge(limits.fileBytes);
  return { bytes, name: cleanName(name) };
}

async function partsOf(c: AppContext, type: string, fileBytes: number): Promise<readonly FormPart[]> {
  const chunks = bodyChunks(c, fileBytes + FORM_EXTRA_BYTES, new AbortController().signal);
  try {
    return await readForm(chunks, type, fileBytes);
  } catch (error) {
    if (error instanceof TruncatedBodyError) throw truncatedBody();
    if (!(error instanceof FormError)) throw error;
    throw new ProblemError('invalid-input', 'the body is not multipart/form-data as its content type says', {
      faults: [{ at: 'file', message: error.message, allowed: 'one part named "file"' }],
    });
  }
}

function nameInHeader(header: string | undefined): string {
  if (header === undefined) return '';
  const encoded = /filename\*\s*=\s*utf-8''([^;\s]+)/i.exec(header)?.[1];
  if (encoded !== undefined) {
    try {
      return decodeURIComponent(encoded);
    } catch {
      // Fall back to the plain parameter.
    }
  }
  return /filename\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^;\s]+))/i.exec(header)?.slice(1).find(Boolean) ?? '';
}

/** The last segment of a path, without control and format characters. Only ever shown, never used as a path. */
export function cleanName(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? '';
  const clean = last.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '').trim();
  return [...clean].slice(0, MAX_NAME_CHARS).join('') || 'artwork';
}
