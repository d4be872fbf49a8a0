import sharp, { type Sharp } from 'sharp';
import type { Raster } from '../../src/artwork/index.ts';

/** Longest side of a preview, px. */
export const PREVIEW_SIDE_PX = 1600;

/** Fast rather than small: only our own code reads a raster. */
const STORED_COMPRESSION = 3;

/** A raster as PNG: straight alpha, 8 bits, sRGB, without metadata. */
export async function encodePng(raster: Raster): Promise<Buffer> {
  return sharpOf(raster).png({ compressionLevel: STORED_COMPRESSION }).toBuffer();
}

/**
 * A PNG of a raster, shrunk if it is larger; both sides are at least 1 px. Shrinking premultiplies alpha, so that colors of
 * clear pixels do not bleed into edges.
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

/** Decodes a PNG written by `encodePng`. @throws Error for anything else */
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
