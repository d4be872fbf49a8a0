/** Turns whatever an artwork's picture is given as into a bounded bitmap of its ink. */
import { shrinkToLimits } from './bitmap-limits.ts';

/** A picture of an artwork: pixels at hand, or the address of a raster picture. Never SVG. */
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
  image.crossOrigin = 'anonymous'; // before the address, or the request goes out without it
  image.decoding = 'async';
  image.src = source;
  await image.decode();
  if (image.naturalWidth === 0 || image.naturalHeight === 0) throw new Error('the picture has no size');
  return image;
}

/**
 * Pixels once drawn from another origin spoil every canvas they are drawn on.
 *
 * @throws DOMException (SecurityError) when they may not be read.
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

/**
 * Levels of detail are powers of two of this many px, so that small changes of size make no new bitmap.
 */
const LEVEL_BASE_PX = 128;

/** The level that shows an ink box `neededPx` wide without blur. */
export function levelFor(neededPx: number): number {
  return Math.max(0, Math.ceil(Math.log2(Math.max(1, neededPx) / LEVEL_BASE_PX)));
}

/**
 * The ink of a picture as a bitmap about as large as its level asks, never larger than the picture itself or the
 * limits of a page. Resized with premultiplied alpha, so that the hidden color of clear pixels stays hidden.
 */
export async function inkBitmap(decoded: Decoded, ink: InkShares, level: number): Promise<ImageBitmap> {
  const { width, height } = sizeOf(decoded);
  const left = Math.min(width - 1, Math.max(0, Math.round(ink.left * width)));
  const top = Math.min(height - 1, Math.max(0, Math.round(ink.top * height)));
  const inkWidth = Math.max(1, Math.min(width - left, Math.round(ink.width * width)));
  const inkHeight = Math.max(1, Math.min(height - top, Math.round(ink.height * height)));
  const wanted = Math.min(1, (LEVEL_BASE_PX * 2 ** level) / inkWidth);
  const scale = Math.min(wanted, shrinkToLimits(inkWidth, inkHeight));
  const resizeWidth = Math.max(1, Math.round(inkWidth * scale));
  const resizeHeight = Math.max(1, Math.round(inkHeight * scale));
  if (resizeWidth === inkWidth && resizeHeight === inkHeight)
    return createImageBitmap(decoded, left, top, inkWidth, inkHeight);
  return createImageBitmap(decoded, left, top, inkWidth, inkHeight, {
    resizeWidth,
    resizeHeight,
    resizeQuality: 'high',
  });
}
