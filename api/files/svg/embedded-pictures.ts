import sharp from 'sharp';
import { MAX_DRAWING_RESOLUTION } from '../drawing-resolution.ts';
import { fileKind } from '../kind.ts';
import { type ReadLimits, SVG_LIMITS } from '../limits.ts';
import { readRaster } from '../raster/read-raster.ts';
import { type FileRefusal, isRefusal, tooComplex } from '../refusal.ts';
import { type DrawingNode, walk } from './drawing-node.ts';

/**
 * Reads every picture embedded in a drawing like any other file (by its bytes, within the limits, to sRGB) and replaces it
 * by a plain PNG. Pictures of unreadable kinds are removed.
 * @returns how many were removed, or the refusal of the first that is damaged or too big
 */
export async function replaceEmbeddedPictures(
  root: DrawingNode,
  limits: ReadLimits,
): Promise<{ readonly removed: number } | FileRefusal> {
  const images = [...walk(root)].filter(
    (node) => node.name === 'image' && node.attributes.get('href')?.startsWith('#') !== true,
  );
  if (images.length > SVG_LIMITS.embeddedPictures)
    return tooComplex('embedded-pictures', images.length, SVG_LIMITS.embeddedPictures);
  const replaced = new Map<string, string | null>();
  let pixelsLeft = limits.pixels;
  let removed = 0;
  for (const image of images) {
    const href = image.attributes.get('href');
    if (href === undefined) continue;
    if (!replaced.has(href)) {
      const answer = await readEmbedded(href, { ...limits, pixels: pixelsLeft });
      if (isRefusal(answer)) return answer;
      pixelsLeft -= answer.pixels;
      replaced.set(href, answer.href);
    }
    const fresh = replaced.get(href) ?? null;
    if (fresh === null) {
      image.attributes.delete('href');
      removed++;
    } else image.attributes.set('href', fresh);
  }
  return { removed };
}

async function readEmbedded(
  href: string,
  limits: ReadLimits,
): Promise<{ readonly href: string | null; readonly pixels: number } | FileRefusal> {
  const bytes = bytesOfDataUrl(href);
  if (bytes === null || bytes.length === 0) return { href: null, pixels: 0 };
  const found = await fileKind(bytes);
  if (isRefusal(found) || found.kind === 'svg' || found.kind === 'pdf') return { href: null, pixels: 0 };
  const picture = await readRaster(bytes, found.kind, limits);
  if (isRefusal(picture)) return picture;
  const { width, height, data } = picture.raster;
  let image = sharp(data, { raw: { width, height, channels: 4 } });
  // More pixels than the drawing itself gets would not be visible.
  if (width * height > MAX_DRAWING_RESOLUTION.areaPx) {
    const scale = Math.sqrt(MAX_DRAWING_RESOLUTION.areaPx / (width * height));
    image = image.resize(Math.max(1, Math.floor(width * scale)), Math.max(1, Math.floor(height * scale)), {
      fit: 'fill',
    });
  }
  const png = await image.png({ compressionLevel: 1 }).toBuffer();
  return { href: `data:image/png;base64,${png.toString('base64')}`, pixels: width * height };
}

/** The bytes of a data URL (RFC 2397), whatever media type it states. */
function bytesOfDataUrl(href: string): Uint8Array | null {
  const comma = href.indexOf(',');
  if (comma < 0) return null;
  const body = href.slice(comma + 1);
  if (/;\s*base64\s*$/i.test(href.slice(0, comma))) return Buffer.from(decodePercent(body), 'base64');
  return Buffer.from(decodePercent(body), 'latin1');
}

function decodePercent(text: string): string {
  return text.replace(/%([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}
