import type { Metadata } from 'sharp';
import type { RasterKind } from '../kind.ts';

/** Memory for reading one file, on top of the process itself: 280 MiB, so that the total growth stays under 300. */
const MEMORY_BYTES = 280 * 1024 * 1024;
/** The pixels themselves. */
const RASTER_BYTES = 4;
/** Bytes per pixel for measuring, at worst: on a background of one color. */
const MEASURING_BYTES = 3.3;

/**
 * The most pixels of such a file that can be read within that memory. Most decoders work row by row; some hold the whole
 * picture in their own format as well, of which a file of a few KB can claim a great deal.
 */
export function maxPixelsInMemory(kind: RasterKind, meta: Metadata): number {
  return Math.floor(
    MEMORY_BYTES / (RASTER_BYTES + Math.max(MEASURING_BYTES, decoderBytesPerPixel(kind, meta))),
  );
}

/**
 * Bytes per pixel that a decoder holds. Where the format does not say, they were measured with sharp 0.35 (libvips 8.18,
 * libheif, libwebp) on pictures of 9 to 49 million px, and rounded up.
 */
function decoderBytesPerPixel(kind: RasterKind, meta: Metadata): number {
  const sampleBytes = SAMPLE_BYTES[meta.depth] ?? 8;
  switch (kind) {
    case 'png':
      // Interlaced rows come in seven passes.
      return meta.isProgressive ? meta.channels * sampleBytes : 0;
    case 'jpeg':
      // Two-byte coefficients, until the last scan.
      return meta.isProgressive
        ? 2 * meta.channels * (COEFFICIENT_SHARE[meta.chromaSubsampling ?? ''] ?? 1)
        : 0;
    case 'tiff':
      // The whole picture may be one strip.
      return meta.channels * sampleBytes;
    case 'webp':
      return 8;
    case 'gif':
      return 5;
    case 'avif':
      return meta.bitsPerSample === 8 ? 15 : 30;
  }
}

const SAMPLE_BYTES: Readonly<Record<string, number>> = {
  uchar: 1,
  char: 1,
  ushort: 2,
  short: 2,
  uint: 4,
  int: 4,
  float: 4,
};

/** Share of the coefficients of a picture without chroma subsampling. */
const COEFFICIENT_SHARE: Readonly<Record<string, number>> = { '4:2:0': 0.5, '4:2:2': 2 / 3 };
