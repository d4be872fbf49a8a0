import type { ArtworkAnswer } from '../../../src/contract/index.ts';
import { type ShopApi, ShopProblem } from '../../shop/shop-api.ts';
import { uploadRequest } from './upload-request.ts';

/** Files up to this size are sent whole: starting over costs less than asking how much has arrived. */
const WHOLE_BYTES_MAX = 512 * 1024;
/** Size of a piece; a server that crashes loses no more than that. */
const PIECE_BYTES = 2 * 1024 * 1024;

/** An upload in pieces, from one attempt to the next. */
export type ResumableUpload = {
  /** its id at the shop; null before it has started. */
  id: string | null;
  /** called with the id once it has started, to be stored for a reload. */
  started(id: string): void;
};

const TUS = { 'Tus-Resumable': '1.0.0' };

const lastSegment = (address: string): string => address.split('/').at(-1) ?? '';
const base64 = (text: string): string => btoa(String.fromCharCode(...new TextEncoder().encode(text)));

/** SHA-256 of the file in hex; empty where the page may not compute one (without https). */
async function hashOf(file: File): Promise<string> {
  if (!globalThis.crypto?.subtle) return '';
  const digest = await crypto.subtle.digest('SHA-256', await file.arrayBuffer());
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Uploads a file to the shop, a large one in pieces by the tus protocol 1.0.0. Called again with the same `upload`, it
 * goes on where it stopped.
 *
 * @param progress called with the share uploaded, 0 to 1
 * @throws ShopProblem
 */
export async function uploadFile(
  api: ShopApi,
  file: File,
  upload: ResumableUpload,
  progress: (share: number) => void,
  signal: AbortSignal,
): Promise<ArtworkAnswer> {
  const sendWhole = async (): Promise<ArtworkAnswer> => {
    const form = new FormData();
    form.set('file', file, file.name);
    const response = await uploadRequest('POST', `${api.base}/artworks`, {}, form, signal, (bytes) =>
      progress(Math.min(1, bytes / file.size)),
    );
    return JSON.parse(response.text) as ArtworkAnswer;
  };
  if (file.size <= WHOLE_BYTES_MAX) return sendWhole();

  const uploads = `${api.base}/uploads`;
  let offset = 0;
  let artwork = '';
  /** Forgets an upload the shop no longer has; rethrows any other error. */
  const forgetIfGone = (error: unknown): void => {
    if (error instanceof ShopProblem && /^(not-found|upload-altered)$/.test(error.code)) upload.id = null;
    else throw error;
  };
  if (upload.id)
    await uploadRequest('HEAD', `${uploads}/${upload.id}`, TUS, null, signal).then((response) => {
      offset = Number(response.header('upload-offset'));
      artwork = lastSegment(response.header('content-location'));
    }, forgetIfGone);
  if (!upload.id) {
    const hash = await hashOf(file);
    const metadata = `filename ${base64(file.name.slice(-200))}${hash && `,sha256 ${base64(hash)}`}`;
    try {
      const response = await uploadRequest(
        'POST',
        uploads,
        { ...TUS, 'Upload-Length': String(file.size), 'Upload-Metadata': metadata },
        null,
        signal,
      );
      upload.id = lastSegment(response.header('location'));
    } catch (error) {
      // a shop with no room for partial uploads may still accept the whole file
      if (error instanceof ShopProblem && error.code === 'busy') return sendWhole();
      throw error;
    }
    upload.started(upload.id);
  }
  while (!artwork) {
    progress(offset / file.size);
    const piece = file.slice(offset, offset + PIECE_BYTES);
    const response = await uploadRequest(
      'PATCH',
      `${uploads}/${upload.id}`,
      { ...TUS, 'Upload-Offset': String(offset), 'Content-Type': 'application/offset+octet-stream' },
      piece,
      signal,
      (bytes) => progress((offset + bytes) / file.size),
    ).catch((error: unknown) => {
      forgetIfGone(error);
      throw new ShopProblem('upload-offset', 'the shop no longer has the upload');
    });
    offset = Number(response.header('upload-offset'));
    artwork = lastSegment(response.header('content-location'));
  }
  return api.artwork(artwork, signal);
}
