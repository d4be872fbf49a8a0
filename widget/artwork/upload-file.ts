import type { ArtworkAnswer } from '../../src/contract/index.ts';
import { problemOf, type ShopApi, ShopProblem } from '../shop/shop-api.ts';

/** A file no larger is sent whole: to begin anew costs less than to ask how much is there. */
const WHOLE_BYTES = 512 * 1024;
/** What goes out at once; a server that dies midway forgets no more. */
const PIECE_BYTES = 2 * 1024 * 1024;
/** A line on which nothing moves is dead after so long, ms; the shop may take longer to read what it has. */
const STALL_MS = 20_000;
const READING_MS = 120_000;

/** How far a file has come, from one attempt to the next. */
export type Way = {
  /** id of the upload at the shop; null before it is begun. */
  upload: string | null;
  /** called when it has one, to be kept for after a reload. */
  begun(upload: string): void;
};

type Answer = { header(name: string): string; text: string };

/** Rejects with a ShopProblem: `offline` when the connection was cut or is dead. XMLHttpRequest, because fetch cannot tell how much has gone out. */
function ask(
  method: string,
  address: string,
  headers: Record<string, string>,
  body: Blob | FormData | null,
  signal: AbortSignal,
  sent: (bytes: number) => void = () => {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    let dead: ReturnType<typeof setTimeout>;
    const cut = (why: string): void => {
      clearTimeout(dead);
      reject(new ShopProblem('offline', why));
    };
    const waitFor = (ms: number): void => {
      clearTimeout(dead);
      dead = setTimeout(() => {
        cut('nothing moves');
        request.abort();
      }, ms);
    };
    request.open(method, address);
    for (const [name, value] of Object.entries(headers)) request.setRequestHeader(name, value);
    if (body)
      request.upload.onprogress = (event) => {
        waitFor(STALL_MS);
        sent(event.loaded);
      };
    request.upload.onload = () => waitFor(READING_MS);
    request.onload = () => {
      clearTimeout(dead);
      const { status, responseText: text } = request;
      const header = (name: string): string => request.getResponseHeader(name) ?? '';
      if (status < 300) resolve({ header, text });
      else reject(problemOf({ status, text, retryAfter: header('retry-after') }));
    };
    request.onerror = () => cut('the connection was cut');
    request.onabort = () => reject(new DOMException('aborted', 'AbortError'));
    signal.addEventListener('abort', () => request.abort(), { once: true });
    waitFor(STALL_MS);
    request.send(body);
  });
}

const lastOf = (address: string): string => address.split('/').at(-1) ?? '';
const base64 = (text: string): string => btoa(String.fromCharCode(...new TextEncoder().encode(text)));

/** Hash of the file, where the page may compute one (by https). */
async function hashOf(file: File): Promise<string> {
  if (!globalThis.crypto?.subtle) return '';
  const digest = await crypto.subtle.digest('SHA-256', await file.arrayBuffer());
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Sends a file to the shop, a large one in pieces by the tus protocol 1.0.0; called again with the same `way` it goes
 * on where it was cut.
 * @param progress called with the share sent, 0 to 1
 * @throws ShopProblem
 */
export async function sendFile(
  api: ShopApi,
  file: File,
  way: Way,
  progress: (share: number) => void,
  signal: AbortSignal,
): Promise<ArtworkAnswer> {
  const whole = async (): Promise<ArtworkAnswer> => {
    const form = new FormData();
    form.set('file', file, file.name);
    const answer = await ask('POST', `${api.base}/artworks`, {}, form, signal, (bytes) =>
      progress(Math.min(1, bytes / file.size)),
    );
    return JSON.parse(answer.text) as ArtworkAnswer;
  };
  if (file.size <= WHOLE_BYTES) return whole();

  const spoken = { 'Tus-Resumable': '1.0.0' };
  const uploads = `${api.base}/uploads`;
  let at = 0;
  let artwork = '';
  /** Forgets an upload the shop no longer has. */
  const unlessGone = (error: unknown): void => {
    if (error instanceof ShopProblem && /^(not-found|upload-altered)$/.test(error.code)) way.upload = null;
    else throw error;
  };
  if (way.upload)
    await ask('HEAD', `${uploads}/${way.upload}`, spoken, null, signal).then((standing) => {
      at = Number(standing.header('upload-offset'));
      artwork = lastOf(standing.header('content-location'));
    }, unlessGone);
  if (!way.upload) {
    const hash = await hashOf(file);
    const said = `filename ${base64(file.name.slice(-200))}${hash && `,sha256 ${base64(hash)}`}`;
    try {
      const begun = await ask(
        'POST',
        uploads,
        { ...spoken, 'Upload-Length': String(file.size), 'Upload-Metadata': said },
        null,
        signal,
      );
      way.upload = lastOf(begun.header('location'));
    } catch (error) {
      // no room for files in pieces: it may still take one whole
      if (error instanceof ShopProblem && error.code === 'busy') return whole();
      throw error;
    }
    way.begun(way.upload);
  }
  while (!artwork) {
    progress(at / file.size);
    const piece = file.slice(at, at + PIECE_BYTES);
    const kept = await ask(
      'PATCH',
      `${uploads}/${way.upload}`,
      { ...spoken, 'Upload-Offset': String(at), 'Content-Type': 'application/offset+octet-stream' },
      piece,
      signal,
      (bytes) => progress((at + bytes) / file.size),
    ).catch((error: unknown) => {
      unlessGone(error);
      throw new ShopProblem('upload-offset', 'the shop let go of it');
    });
    at = Number(kept.header('upload-offset'));
    artwork = lastOf(kept.header('content-location'));
  }
  return api.artwork(artwork, signal);
}
