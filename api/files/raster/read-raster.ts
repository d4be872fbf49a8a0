import sharp, { type Metadata } from 'sharp';
import type { Raster } from '../../../src/artwork/index.ts';
import type { SourceNote } from '../../../src/contract/index.ts';
import { KIND_NAMES, type RasterKind } from '../kind.ts';
import { JPEG_SCANS, type ReadLimits } from '../limits.ts';
import { type FileRefusal, isRefusal, tooComplex, unsupportedKind } from '../refusal.ts';
import { maxPixelsInMemory } from './decoder-memory.ts';
import { summarizeProfile } from './icc.ts';
import { countScans } from './jpeg-scans.ts';
import { summarizePng } from './png-chunks.ts';

export type ReadPixels = { readonly raster: Raster; readonly notes: readonly SourceNote[] };

/**
 * Decodes a picture to upright, straight-alpha, 8-bit sRGB. Limits are checked by the header, before decoding.
 * @param onPixels called with the number of pixels once the header is accepted
 */
export async function readRaster(
  bytes: Uint8Array,
  kind: RasterKind,
  limits: ReadLimits,
  onPixels: (pixels: number) => void = () => {},
): Promise<ReadPixels | FileRefusal> {
  const damaged: FileRefusal = { refused: 'damaged-file', params: { kind: KIND_NAMES[kind] } };
  const header = await readHeader(bytes, kind, limits);
  if (isRefusal(header)) return header;
  const { meta, frames } = header;
  onPixels(meta.width * meta.height);

  try {
    // CMYK JPEGs store inverted values, with or without a marker; the decoder and all browsers treat them so.
    const { data, info } = await sharp(bytes, {
      failOn: 'error',
      limitInputPixels: limits.pixels,
      page: 0,
      pages: 1,
    })
      .autoOrient()
      .toColourspace('srgb')
      .ensureAlpha()
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    if (info.channels !== 4) return damaged;
    return {
      raster: { width: info.width, height: info.height, data },
      notes: notesOf(meta, kind, frames),
    };
  } catch (error) {
    return decodeRefusal(error, kind);
  }
}

type Header = { readonly meta: Metadata; readonly frames: number };

async function readHeader(
  bytes: Uint8Array,
  kind: RasterKind,
  limits: ReadLimits,
): Promise<Header | FileRefusal> {
  const incomplete: FileRefusal = { refused: 'incomplete-file', params: { kind: KIND_NAMES[kind] } };
  let meta: Metadata;
  try {
    meta = await sharp(bytes, { failOn: 'error', limitInputPixels: false, page: 0, pages: 1 }).metadata();
  } catch (error) {
    const cut = (kind === 'png' && !summarizePng(bytes).complete) || (kind === 'tiff' && isCutTiff(bytes));
    return cut ? incomplete : decodeRefusal(error, kind);
  }
  const { width, height } = meta;
  const limitPx = Math.min(limits.pixels, maxPixelsInMemory(kind, meta));
  if (width * height > limitPx || Math.max(width, height) > limits.sidePx)
    return {
      refused: 'too-many-pixels',
      params: { widthPx: width, heightPx: height, limitPx, limitSidePx: limits.sidePx },
    };
  // AVIF's container can also hold codecs that our decoder does not have.
  if (kind === 'avif' && meta.compression !== 'av1') return unsupportedKind('HEIC');
  let frames = meta.pages ?? 1;
  if (kind === 'png') {
    const outline = summarizePng(bytes);
    if (!outline.complete) return incomplete;
    frames = outline.frames;
  }
  if (kind === 'webp' && isShortWebp(bytes)) return incomplete;
  if (kind === 'jpeg' && width * height > 1_000_000) {
    const scans = countScans(bytes, JPEG_SCANS);
    if (scans > JPEG_SCANS) return tooComplex('scans', scans, JPEG_SCANS);
  }
  return { meta, frames };
}

/** RIFF states its length, less the first 8 bytes. */
function isShortWebp(bytes: Uint8Array): boolean {
  const stated = new DataView(bytes.buffer, bytes.byteOffset, bytes.length).getUint32(4, true);
  return stated + 8 > bytes.length;
}

/** True if the first directory, which may be at the end, is missing (TIFF 6.0, section 2). */
function isCutTiff(bytes: Uint8Array): boolean {
  if (bytes.length < 8) return true;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  return view.getUint32(4, bytes[0] === 0x49) + 2 > bytes.length;
}

function notesOf(meta: Metadata, kind: RasterKind, frames: number): SourceNote[] {
  const notes: SourceNote[] = [];
  const orientation = meta.orientation ?? 1;
  if (orientation >= 2 && orientation <= 8) notes.push({ code: 'turned-by-metadata', orientation });
  const profile = meta.icc === undefined ? null : summarizeProfile(meta.icc);
  if (meta.space === 'cmyk') notes.push({ code: 'cmyk-converted', profile: profile?.name ?? null });
  else if (profile !== null && profile.space === 'RGB ' && !profile.likeSrgb)
    notes.push({ code: 'wide-gamut-converted', profile: profile.name ?? 'ICC' });
  if (meta.depth !== 'uchar') notes.push({ code: 'sixteen-bit-reduced' });
  if (frames > 1)
    notes.push(
      kind === 'tiff' ? { code: 'first-page-only', pages: frames } : { code: 'first-frame-only', frames },
    );
  return notes;
}

/** The decoder's message is never passed on: it may quote the file or name paths. */
function decodeRefusal(error: unknown, kind: RasterKind): FileRefusal {
  const message = error instanceof Error ? error.message : '';
  const cut =
    /premature end|truncat|read error|unexpected end|end of (file|stream|data)|not enough (data|bytes)|insufficient|EOF/i;
  return {
    refused: cut.test(message) ? 'incomplete-file' : 'damaged-file',
    params: { kind: KIND_NAMES[kind] },
  };
}
