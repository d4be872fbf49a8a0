/** Turns the picture of an artwork, however it is given, into a canvas of bounded size that holds its ink. */
import { shrinkToLimits } from './bitmap-limits.ts';

/** A picture of an artwork: pixels, or the address of a raster picture. Never SVG. */
export type PictureSource = ImageBitmap | HTMLCanvasElement | OffscreenCanvas | string;

/** The ink's box as shares (0..1) of the picture's width and height. */
export type InkShares = {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
};

type Decoded = ImageBitmap | HTMLCanvasElement | OffscreenCanvas | HTMLImageElement;

/**
 * Decodes a source. An address is fetched with CORS and never without: a picture from an origin that does not allow it
 * is refused here, so that no canvas is ever tainted.
 */
export async function decodePicture(source: PictureSource): Promise<Decoded> {
  if (typeof source !== 'string') {
    assertReadable(source);
    return source;
  }
  const image = new Image();
  image.crossOrigin = 'anonymous'; // set before `src`, which starts the request
  image.decoding = 'async';
  image.src = source;
  await image.decode();
  if (image.naturalWidth === 0 || image.naturalHeight === 0) throw new Error('the picture has no size');
  return image;
}

/**
 * Pixels drawn from another origin without CORS taint every canvas they are drawn on.
 *
 * @throws DOMException (SecurityError) when the pixels are tainted.
 */
function assertReadable(pixels: CanvasImageSource): void {
  const probe = document.createElement('canvas');
  probe.width = 1;
  probe.height = 1;
  const pen = probe.getContext('2d', { willReadFrequently: true });
  pen?.drawImage(pixels, 0, 0);
  pen?.getImageData(0, 0, 1, 1);
}

const sizeOf = (decoded: Decoded): { width: number; height: number } =>
  decoded instanceof HTMLImageElement
    ? { width: decoded.naturalWidth, height: decoded.naturalHeight }
    : { width: decoded.width, height: decoded.height };

/** Levels of detail are powers of two times this many px, so that a small change of size needs no new bitmap. */
const LEVEL_BASE_PX = 128;

/** The level that shows an ink box `neededPx` wide without blur. */
export function levelFor(neededPx: number): number {
  return Math.max(0, Math.ceil(Math.log2(Math.max(1, neededPx) / LEVEL_BASE_PX)));
}

/**
 * The ink of a picture on a canvas about as large as its level asks, never larger than the picture itself or the limits
 * of a page. Resized with premultiplied alpha, so that the hidden color of clear pixels stays hidden. A canvas because
 * Fabric's images take no ImageBitmap; the pixels are handed over, not copied.
 */
export async function inkCanvas(decoded: Decoded, ink: InkShares, level: number): Promise<HTMLCanvasElement> {
  const { width, height } = sizeOf(decoded);
  const left = Math.min(width - 1, Math.max(0, Math.round(ink.left * width)));
  const top = Math.min(height - 1, Math.max(0, Math.round(ink.top * height)));
  const inkWidth = Math.max(1, Math.min(width - left, Math.round(ink.width * width)));
  const inkHeight = Math.max(1, Math.min(height - top, Math.round(ink.height * height)));
  const levelScale = Math.min(1, (LEVEL_BASE_PX * 2 ** level) / inkWidth);
  const scale = Math.min(levelScale, shrinkToLimits(inkWidth, inkHeight));
  const resizeWidth = Math.max(1, Math.round(inkWidth * scale));
  const resizeHeight = Math.max(1, Math.round(inkHeight * scale));
  const bitmap =
    resizeWidth === inkWidth && resizeHeight === inkHeight
      ? await createImageBitmap(decoded, left, top, inkWidth, inkHeight)
      : await createImageBitmap(decoded, left, top, inkWidth, inkHeight, {
          resizeWidth,
          resizeHeight,
          resizeQuality: 'high',
        });
  const canvas = document.createElement('canvas');
  canvas.width = bitmap.width;
  canvas.height = bitmap.height;
  canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(bitmap);
  return canvas;
}
