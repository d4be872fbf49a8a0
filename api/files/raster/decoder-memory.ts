import type { Metadata } from 'sharp';
import type { RasterKind } from '../kind.ts';

/** What reading one file may take beyond the process as it stands: 280 MiB, so that the whole stays under 300. */
const MEMORY_BYTES = 280 * 1024 * 1024;
/** The pixels themselves. */
const RASTER_BYTES = 4;
/** What measuring takes for each pixel where it takes most: on a ground of one color. */
const MEASURING_BYTES = 3.3;

/**
 * The most pixels of such a file that can be read in bounded memory. Most decoders go row by row; some have to hold the
 * whole picture in a form of their own beside ours, and a few KB can ask for a great deal of it.
 */
export function maxPixelsInMemory(kind: RasterKind, meta: Metadata): number {
  return Math.floor(
    MEMORY_BYTES / (RASTER_BYTES + Math.max(MEASURING_BYTES, decoderBytesPerPixel(kind, meta))),
  );
}

/**
 * Bytes a decoder holds for each pixel. What is not plain from the format was measured with sharp 0.35 (libvips 8.18,
 * libheif, libwebp) on pictures of 9 to 49 million px, and rounded up.
 */
function decoderBytesPerPixel(kind: RasterKind, meta: Metadata): number {
  const sampleBytes = SAMPLE_BYTES[meta.depth] ?? 8;
  switch (kind) {
    case 'png':
      // Interlaced rows come in seven passes over the whole.
      return meta.isProgressive ? meta.channels * sampleBytes : 0;
    case 'jpeg':
      // Coefficients of two bytes, until the last scan has come.
      return meta.isProgressive
        ? 2 * meta.channels * (COEFFICIENT_SHARE[meta.chromaSubsampling ?? ''] ?? 1)
        : 0;
    case 'tiff':
      // All of it may be one strip.
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

/** Of the coefficients of a picture whose colors are stored as finely as its brightness. */
const COEFFICIENT_SHARE: Readonly<Record<string, number>> = { '4:2:0': 0.5, '4:2:2': 2 / 3 };
