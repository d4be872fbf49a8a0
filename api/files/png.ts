import sharp, { type Sharp } from 'sharp';
import type { Raster } from '../../src/artwork/index.ts';

/** Longest side of the picture shown in pages, px. */
export const PREVIEW_SIDE_PX = 1600;

/** Fast rather than small: a raster is written once, and read by our own code. */
const STORED_COMPRESSION = 3;

/** A raster as PNG: straight alpha, 8 bits, sRGB, no metadata at all, nothing after its end chunk. */
export async function encodePng(raster: Raster): Promise<Buffer> {
  return sharpOf(raster).png({ compressionLevel: STORED_COMPRESSION }).toBuffer();
}

/**
 * A smaller PNG of a raster; itself when it is small enough. Both sides are at least 1 px. Colors of clear pixels don't
 * bleed into edges: it is shrunk with alpha multiplied in.
 */
export async function encodePreview(raster: Raster, longSidePx: number): Promise<Buffer> {
  const { width, height } = raster;
  const scale = Math.min(1, longSidePx / Math.max(width, height));
  let image = sharpOf(raster);
  if (scale < 1)
    image = image.resize(Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)), {
      fit: 'fill',
    });
  return image.png({ compressionLevel: 6 }).toBuffer();
}

/** Decodes a PNG that `encodePng` wrote. @throws Error when it is not one. */
export async function decodePng(bytes: Uint8Array): Promise<Raster> {
  const { data, info } = await sharp(bytes, { limitInputPixels: false })
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data };
}

function sharpOf({ width, height, data }: Raster): Sharp {
  return sharp(data, { raw: { width, height, channels: 4 }, limitInputPixels: false });
}
