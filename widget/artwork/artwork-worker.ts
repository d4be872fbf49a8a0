/**
 * Checks artwork in a module worker: decodes a file, measures it and applies remedies, with the same code as the shop.
 * The page uses it through `ArtworkReader`.
 *
 * Browsers premultiply and round pixels, so the color of a nearly transparent pixel is only approximate; what the shop
 * measures from the file decides.
 */
import type { Raster } from '../../src/artwork/index.ts';
import {
  applyRemedies,
  buildPyramid,
  findFindings,
  measureArtwork,
  previewOf,
} from '../../src/artwork/index.ts';
import type { ArtworkFacts } from '../../src/contract/index.ts';
import type { ArtworkJob, Unread, WorkerAnswer, WorkerRequest } from './artwork-worker-protocol.ts';
import { applyExifOrientation } from './exif-rotate.ts';
import type { ImageHeader } from './image-header.ts';
import { HEADER_BYTES, imageHeader } from './image-header.ts';

/** Most pixels read in the page: a phone has to hold them several times. The shop measures larger files. */
const PIXELS_MOST = 26_000_000;
/** Largest side of a tile decoded at a time, px: within the browsers' limits on bitmaps. */
const PIECE_SIDE_PX = 4096;

/** The last file read. */
let kept: { readonly key: string; readonly raster: Raster } | null = null;
const measured = new Map<string, ArtworkFacts>();
const MEASURED_MOST = 40;

async function rasterOf(job: ArtworkJob): Promise<Raster | Unread> {
  if (kept?.key === job.key) return kept.raster;
  const head = new Uint8Array(await job.file.slice(0, HEADER_BYTES).arrayBuffer());
  const header = imageHeader(head);
  if (!header) return 'not-a-local-kind';
  if (header.widthPx * header.heightPx > PIXELS_MOST) return 'too-many-pixels';
  kept = null; // frees the old pixels before the new ones are decoded
  try {
    const raster = await decode(job.file, header);
    if (!raster) return 'not-decoded';
    kept = { key: job.key, raster };
    return raster;
  } catch {
    return 'not-decoded';
  }
}

/** Decodes upright, in tiles no larger than a bitmap may be. */
async function decode(file: Blob, header: ImageHeader): Promise<Raster | null> {
  const { widthPx: width, heightPx: height, orientation, exif } = header;
  if (width <= PIECE_SIDE_PX && height <= PIECE_SIDE_PX) {
    const whole = await createImageBitmap(file);
    return { width: whole.width, height: whole.height, data: pixelsOf(whole) };
  }
  // Browsers crop pictures with an orientation tag inconsistently, so the tag is cut out and applied here.
  if (orientation === null) return null;
  const stored = exif ? new Blob([file.slice(0, exif.from), file.slice(exif.to)]) : file;
  const data = new Uint8ClampedArray(4 * width * height);
  for (let top = 0; top < height; top += PIECE_SIDE_PX) {
    for (let left = 0; left < width; left += PIECE_SIDE_PX) {
      const pieceWidth = Math.min(PIECE_SIDE_PX, width - left);
      const pieceHeight = Math.min(PIECE_SIDE_PX, height - top);
      const piece = pixelsOf(await createImageBitmap(stored, left, top, pieceWidth, pieceHeight));
      for (let row = 0; row < pieceHeight; row++)
        data.set(
          piece.subarray(4 * row * pieceWidth, 4 * (row + 1) * pieceWidth),
          4 * ((top + row) * width + left),
        );
    }
  }
  return applyExifOrientation({ width, height, data }, orientation);
}

function pixelsOf(bitmap: ImageBitmap): Uint8ClampedArray {
  const { width, height } = bitmap;
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (!pen) throw new Error('no canvas in this worker');
  pen.drawImage(bitmap, 0, 0);
  bitmap.close();
  return pen.getImageData(0, 0, width, height).data;
}

async function pictureOf(raster: Raster, sidePx: number): Promise<Blob> {
  const { width, height, data } = previewOf(buildPyramid(raster), sidePx);
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('no canvas in this worker');
  pen.putImageData(new ImageData(new Uint8ClampedArray(data), width, height), 0, 0);
  return canvas.convertToBlob({ type: 'image/png' });
}

function factsOf(key: string, raster: Raster): ArtworkFacts {
  let facts = measured.get(key);
  if (!facts) {
    facts = measureArtwork(raster);
    measured.set(key, facts);
    const oldest = measured.keys().next().value;
    if (measured.size > MEASURED_MOST && oldest !== undefined) measured.delete(oldest);
  }
  return facts;
}

async function answer(request: WorkerRequest): Promise<WorkerAnswer> {
  const { job, key, remedies } = request;
  const raster = await rasterOf(request);
  if (typeof raster === 'string') return { job, kind: 'unread', why: raster };
  const mended = remedies.length === 0 ? raster : applyRemedies(raster, remedies);
  const facts = factsOf(`${key} ${JSON.stringify(remedies)}`, mended);
  if (request.kind === 'find')
    return { job, kind: 'found', findings: findFindings({ ...request.input, facts }) };
  return { job, kind: 'read', artwork: { facts, picture: await pictureOf(mended, request.pictureSidePx) } };
}

self.addEventListener('message', (event: MessageEvent<WorkerRequest>) => {
  answer(event.data).then(
    (message) => self.postMessage(message),
    () =>
      self.postMessage({ job: event.data.job, kind: 'unread', why: 'not-decoded' } satisfies WorkerAnswer),
  );
});
