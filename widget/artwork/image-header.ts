/** Reads the kind and size of an image from the first bytes of its file, without decoding it. */

/** Kinds that browsers decode; only the shop reads the others. */
export type LocalKind = 'png' | 'jpeg' | 'webp' | 'gif' | 'avif';

/** Exif orientation of the stored pixels, 1 to 8 (CIPA DC-008); 1 is upright. */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

export type ImageHeader = {
  readonly kind: LocalKind;
  /** as stored. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** null: the file may have one, in a form that is not read here. */
  readonly orientation: Orientation | null;
  /** byte range of a JPEG's Exif segment, including its marker. */
  readonly exif: { readonly from: number; readonly to: number } | null;
};

/** How many bytes from the start of a file are read: a JPEG may have long metadata before its size. */
export const HEADER_BYTES = 512 * 1024;

/**
 * Reads the header of a PNG, JPEG, WebP, GIF or AVIF. Null when the bytes are none of these or too few, and where browsers
 * are known to decode other pixels than the shop: CMYK JPEGs, which they convert without a profile, and AVIFs with alpha,
 * whose range they read differently. The file's name and declared type are ignored, as either may be wrong.
 */
export function imageHeader(bytes: Uint8Array): ImageHeader | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    if (startsWith(view, 0, 'PNG\r\n\u001a\n', 1) && view.getUint8(0) === 0x89) return png(view);
    if (view.getUint16(0) === 0xffd8) return jpeg(view);
    if (startsWith(view, 0, 'GIF8')) return sized('gif', view.getUint16(6, true), view.getUint16(8, true));
    if (startsWith(view, 0, 'RIFF') && startsWith(view, 8, 'WEBP')) return webp(view);
    if (startsWith(view, 4, 'ftypavif') || startsWith(view, 4, 'ftypavis')) return avif(view);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error; // the bytes end before the size
  }
  return null;
}

function startsWith(view: DataView, at: number, text: string, skip = 0): boolean {
  for (let i = 0; i < text.length; i++) if (view.getUint8(at + skip + i) !== text.charCodeAt(i)) return false;
  return true;
}

const sized = (
  kind: LocalKind,
  widthPx: number,
  heightPx: number,
  orientation: Orientation | null = 1,
  exif: ImageHeader['exif'] = null,
): ImageHeader | null =>
  widthPx > 0 && heightPx > 0 ? { kind, widthPx, heightPx, orientation, exif } : null;

const png = (view: DataView): ImageHeader | null =>
  startsWith(view, 12, 'IHDR')
    ? sized('png', view.getUint32(16), view.getUint32(20), mentions(view, ['eXIf']) ? null : 1)
    : null;

/** Whether one of these four-letter names occurs anywhere in the bytes. */
function mentions(view: DataView, names: readonly string[]): boolean {
  const codes = names.map(
    (name) => [...name].reduce((code, char) => (code << 8) | char.charCodeAt(0), 0) >>> 0,
  );
  for (let at = 12; at + 4 <= view.byteLength; at++) if (codes.includes(view.getUint32(at))) return true;
  return false;
}

/** The first frame header (SOF0..15 except DHT, JPG, DAC) has the size; an Exif segment before it, the orientation. */
function jpeg(view: DataView): ImageHeader | null {
  let exif: ImageHeader['exif'] = null;
  for (let at = 2; ; ) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc) {
      const components = view.getUint8(at + 9);
      if (components === 4) return null;
      return sized(
        'jpeg',
        view.getUint16(at + 7),
        view.getUint16(at + 5),
        exif ? exifOrientation(view, exif.from + 10, exif.to) : 1,
        exif,
      );
    }
    if (marker === 0xe1 && startsWith(view, at + 4, 'Exif'))
      exif = { from: at, to: at + 2 + view.getUint16(at + 2) };
    if (marker === 0xd9 || marker === 0xda) return null;
    // standalone markers have no length
    at += marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8) ? 2 : 2 + view.getUint16(at + 2);
  }
}

/** Tag 0x0112 of the first directory of the TIFF structure at `from`. */
function exifOrientation(view: DataView, from: number, to: number): Orientation | null {
  const little = view.getUint16(from) === 0x4949;
  const directory = from + view.getUint32(from + 4, little);
  if (directory + 2 > to) return null;
  const entries = view.getUint16(directory, little);
  for (let i = 0; i < entries; i++) {
    const entry = directory + 2 + 12 * i;
    if (entry + 12 > to) return null;
    if (view.getUint16(entry, little) !== 0x0112) continue;
    const value = view.getUint16(entry + 8, little);
    return value >= 1 && value <= 8 ? (value as Orientation) : 1;
  }
  return 1;
}

function webp(view: DataView): ImageHeader | null {
  if (startsWith(view, 12, 'VP8X')) {
    const hasExif = (view.getUint8(20) & 0x08) !== 0;
    return sized('webp', 1 + uint24(view, 24), 1 + uint24(view, 27), hasExif ? null : 1);
  }
  if (startsWith(view, 12, 'VP8L')) {
    const bits = view.getUint32(21, true);
    return sized('webp', 1 + (bits & 0x3fff), 1 + ((bits >>> 14) & 0x3fff));
  }
  return startsWith(view, 12, 'VP8 ')
    ? sized('webp', view.getUint16(26, true) & 0x3fff, view.getUint16(28, true) & 0x3fff)
    : null;
}

const uint24 = (view: DataView, at: number): number =>
  view.getUint16(at, true) + (view.getUint8(at + 2) << 16);

/** The largest `ispe` property is the picture's; the others are those of its alpha plane and tiles. */
function avif(view: DataView): ImageHeader | null {
  // an auxiliary picture; alpha is the only kind in use
  if (mentions(view, ['auxC'])) return null;
  let best: ImageHeader | null = null;
  const orientation = mentions(view, ['irot', 'imir']) ? null : 1;
  const end = Math.min(view.byteLength, 64 * 1024) - 16;
  for (let at = 8; at < end; at++) {
    if (view.getUint8(at) !== 0x69 || !startsWith(view, at, 'ispe')) continue;
    const found = sized('avif', view.getUint32(at + 8), view.getUint32(at + 12), orientation);
    if (found && (!best || found.widthPx * found.heightPx > best.widthPx * best.heightPx)) best = found;
  }
  return best;
}
