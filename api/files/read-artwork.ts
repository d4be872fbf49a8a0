import type { Raster } from '../../src/artwork/index.ts';
import type { SourceInfo, SourceNote } from '../../src/contract/index.ts';
import { fileKind, kindByName } from './kind.ts';
import { DEFAULT_READ_LIMITS, type ReadLimits } from './limits.ts';
import { readPdf } from './pdf/read-pdf.ts';
import { readRaster } from './raster/read-raster.ts';
import { type FileRefusal, isRefusal } from './refusal.ts';
import { readSvg } from './svg/read-svg.ts';

/** What a file was, and its pixels: upright, straight alpha, 8-bit sRGB. */
export type ReadFile = { readonly source: SourceInfo; readonly raster: Raster };

export type ReadOptions = {
  /** its name; only compared with the kind that the bytes say. */
  readonly name?: string | undefined;
  /** the rest are the defaults. */
  readonly limits?: Partial<ReadLimits> | undefined;
  /** called with the number of pixels: of a picture once its header is accepted, of a drawing once it is drawn. */
  readonly onPixels?: ((pixels: number) => void) | undefined;
};

/**
 * Reads a customer's file, identified by its bytes alone. Returns its pixels or a refusal, and never throws, whatever the
 * bytes. It runs native decoders on them, so call it in a process that can be killed.
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
