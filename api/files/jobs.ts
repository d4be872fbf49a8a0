import { applyRemedies, measureArtwork, type Raster } from '../../src/artwork/index.ts';
import type { ArtworkFacts, Remedy, SourceInfo } from '../../src/contract/index.ts';
import type { ReadLimits } from './limits.ts';
import { decodePng, encodePng, encodePreview, PREVIEW_SIDE_PX } from './png.ts';
import { type ProofRequest, renderProof } from './proof.ts';
import { readArtwork } from './read-artwork.ts';
import { type FileRefusal, isRefusal } from './refusal.ts';

/** Jobs for the pool. Bytes are sent along with them, in the order stated. */
export type JobRequest =
  /** bytes: the file as received. */
  | {
      readonly job: 'read';
      readonly name?: string | undefined;
      readonly limits: ReadLimits;
      readonly remedies: readonly Remedy[];
    }
  /** bytes: a stored raster. */
  | { readonly job: 'preview'; readonly longSidePx: number }
  /** bytes: the stored raster of each placed artwork, in order. */
  | { readonly job: 'proof'; readonly proof: ProofRequest };

/** A job's result and its bytes: for `read` the raster and the preview as PNG, otherwise one PNG. */
export type JobAnswer =
  | { readonly answer: FileRefusal }
  | { readonly answer: ReadFacts; readonly blobs: readonly [Uint8Array, Uint8Array] }
  | { readonly answer: Record<string, never>; readonly blobs: readonly [Uint8Array] };

/** The facts of a file with its remedies applied. */
export type ReadFacts = { readonly source: SourceInfo; readonly facts: ArtworkFacts };

/**
 * Does one job. Runs in a separate process that may be killed at any time.
 * @param onPixels called with the number of pixels once the header of a picture is accepted
 */
export async function doJob(
  request: JobRequest,
  blobs: readonly Uint8Array[],
  onPixels: (pixels: number) => void,
): Promise<JobAnswer> {
  switch (request.job) {
    case 'read':
      return readJob(request, blobs[0]!, onPixels);
    case 'preview':
      return { answer: {}, blobs: [await encodePreview(await decodePng(blobs[0]!), request.longSidePx)] };
    case 'proof':
      return {
        answer: {},
        blobs: [await renderProof(request.proof, await Promise.all(blobs.map(decodePng)))],
      };
  }
}

async function readJob(
  request: Extract<JobRequest, { job: 'read' }>,
  bytes: Uint8Array,
  onPixels: (pixels: number) => void,
): Promise<JobAnswer> {
  const read = await readArtwork(bytes, { name: request.name, limits: request.limits, onPixels });
  if (isRefusal(read)) return { answer: read };
  const raster: Raster =
    request.remedies.length === 0 ? read.raster : applyRemedies(read.raster, request.remedies);
  const facts = measureArtwork(raster);
  if (facts.inkBox === null) return { answer: { refused: 'nothing-to-print', params: {} } };
  const png = await encodePng(raster);
  return {
    answer: { source: read.source, facts },
    blobs: [png, await encodePreview(raster, PREVIEW_SIDE_PX)],
  };
}
