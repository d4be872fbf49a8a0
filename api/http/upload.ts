import type { Limits } from '../deps.ts';
import { TruncatedBodyError } from '../files/index.ts';
import { bodyChunks, readBytes } from './body.ts';
import type { AppContext } from './env.ts';
import { FormError, type FormPart, readForm } from './multipart.ts';
import { faultAt, ProblemError, tooLarge, truncatedBody } from './problem.ts';

/** What a form adds around a file: boundaries and headers of its parts. */
const FORM_EXTRA_BYTES = 64 * 1024;
const MAX_NAME_CHARS = 200;

/** A file as it came. Its name is what the sender says; its type is never asked. */
export type UploadedFile = { readonly bytes: Uint8Array; readonly name: string };

/** Files being received at once are bounded, since each is held in memory. */
export class UploadGate {
  readonly #max: number;
  #active = 0;

  constructor(most: number) {
    this.#max = most;
  }

  /** @throws ProblemError `busy` when too many are inside */
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

/** Parts of uploads being received here, so that who asks how much is here is answered once they have ended. */
export class ActiveParts {
  readonly #running = new Map<string, Set<{ readonly stop: AbortController; done: Promise<unknown> }>>();

  /** @param work given what tells it to end with what it has */
  async run<T>(key: string, work: (stop: AbortSignal) => Promise<T>): Promise<T> {
    const stop = new AbortController();
    const done = work(stop.signal);
    const one = { stop, done };
    const all = this.#running.get(key) ?? new Set();
    this.#running.set(key, all.add(one));
    try {
      return await done;
    } finally {
      all.delete(one);
      if (all.size === 0) this.#running.delete(key);
    }
  }

  /** Waits until none is under way; those that do not end by themselves within `ms` are told to. */
  async settle(key: string, ms: number): Promise<void> {
    const all = [...(this.#running.get(key) ?? [])];
    const late = setTimeout(() => {
      for (const { stop } of all) stop.abort();
    }, ms);
    await Promise.allSettled(all.map(({ done }) => done));
    clearTimeout(late);
  }
}

/**
 * The one file of a request: the part `file` of a form, or the body itself with its name in Content-Disposition.
 * @throws ProblemError naming what is wrong
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
  const pieces = bodyChunks(c, fileBytes + FORM_EXTRA_BYTES, new AbortController().signal);
  try {
    return await readForm(pieces, type, fileBytes);
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
  const coded = /filename\*\s*=\s*utf-8''([^;\s]+)/i.exec(header)?.[1];
  if (coded !== undefined) {
    try {
      return decodeURIComponent(coded);
    } catch {
      // the plain form may still be there
    }
  }
  return /filename\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^;\s]+))/i.exec(header)?.slice(1).find(Boolean) ?? '';
}

/** The last part of a path, without what moves the cursor or hides an ending; never used as a path here. */
export function cleanName(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? '';
  const clean = last.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '').trim();
  return [...clean].slice(0, MAX_NAME_CHARS).join('') || 'artwork';
}
