import type { Raster } from '../../src/artwork/index.ts';
import type { SourceInfo, SourceNote } from '../../src/contract/index.ts';
import { fileKind, kindByName } from './kind.ts';
import { DEFAULT_READ_LIMITS, type ReadLimits } from './limits.ts';
import { readPdf } from './pdf/read-pdf.ts';
import { readRaster } from './raster/read-raster.ts';
import { type FileRefusal, isRefusal } from './refusal.ts';
import { readSvg } from './svg/read-svg.ts';

/** A file read: what it was, and its pixels, upright, straight alpha, 8-bit sRGB. */
export type ReadFile = { readonly source: SourceInfo; readonly raster: Raster };

export type ReadOptions = {
  /** the name it came with; only ever compared with what the bytes say. */
  readonly name?: string | undefined;
  /** bounds; those not given are the defaults. */
  readonly limits?: Partial<ReadLimits> | undefined;
  /** told the number of pixels: of a picture once its header has passed, of a drawing once it is drawn. */
  readonly onPixels?: ((pixels: number) => void) | undefined;
};

/**
 * Reads a customer's file. Decides by the bytes alone what it is, and answers with its pixels or with the reason they
 * can't be had; it never throws for anything the bytes may hold. Runs decoders written in C and Rust on them, so call it
 * in a process that can be killed.
 */
export async function readArtwork(
  bytes: Uint8Array,
  options: ReadOptions = {},
): Promise<ReadFile | FileRefusal> {
  const limits = { ...DEFAULT_READ_LIMITS, ...options.limits };
  if (bytes.length > limits.bytes)
    return { refused: 'too-large', params: { bytes: bytes.length, limitBytes: limits.bytes } };
  const found = await fileKind(bytes);
  if (isRefusal(found)) return found;
  const { kind } = found;

  let naturalMm: SourceInfo['naturalMm'] = null;
  let pixels: { readonly raster: Raster; readonly notes: readonly SourceNote[] } | FileRefusal;
  if (kind === 'svg') {
    const drawn = await readSvg(bytes, limits);
    if (isRefusal(drawn)) return drawn;
    naturalMm = drawn.naturalMm;
    pixels = drawn;
    options.onPixels?.(drawn.raster.width * drawn.raster.height);
  } else if (kind === 'pdf') {
    const drawn = await readPdf(bytes);
    if (isRefusal(drawn)) return drawn;
    naturalMm = drawn.naturalMm;
    pixels = drawn;
    options.onPixels?.(drawn.raster.width * drawn.raster.height);
  } else {
    pixels = await readRaster(bytes, kind, limits, options.onPixels);
    if (isRefusal(pixels)) return pixels;
  }

  const notes = [...pixels.notes];
  const claimed = options.name === undefined ? null : kindByName(options.name);
  if (claimed !== null && claimed.kind !== kind)
    notes.push({ code: 'name-does-not-match', named: claimed.ending, found: kind });
  return { source: { kind, bytes: bytes.length, naturalMm, notes }, raster: pixels.raster };
}
