import condensedLatin from '@fontsource/barlow-condensed/files/barlow-condensed-latin-700-normal.woff2?url&no-inline';
import condensedMore from '@fontsource/barlow-condensed/files/barlow-condensed-latin-ext-700-normal.woff2?url&no-inline';
import slabLatin from '@fontsource/bitter/files/bitter-latin-700-normal.woff2?url&no-inline';
import slabMore from '@fontsource/bitter/files/bitter-latin-ext-700-normal.woff2?url&no-inline';

/** Files of the faces of type the shop sets names in, by their ids in the catalog. */
export const NAME_FONTS: Readonly<Record<string, readonly string[]>> = {
  'condensed-bold': [condensedLatin, condensedMore],
  'slab-bold': [slabLatin, slabMore],
};

/** A name as it is drawn: a picture of its letters. */
export type NamePicture = {
  readonly address: string;
  readonly widthPx: number;
  readonly heightPx: number;
};

/** Height of the capitals in the picture, px. */
const CAP_PX = 160;
const SIDE_MOST_PX = 4096;

const loading = new Map<string, Promise<string>>();

/** Loads a face of type for the page under a name of our own. Rejects when it does not arrive. */
function familyOf(font: string): Promise<string> {
  let family = loading.get(font);
  if (!family) {
    const name = `platen-${font}`;
    family = Promise.all(
      (NAME_FONTS[font] ?? []).map((file) => new FontFace(name, `url(${JSON.stringify(file)})`).load()),
    ).then((faces) => {
      if (faces.length === 0) throw new Error(`there is no file of the font "${font}"`);
      for (const face of faces) document.fonts.add(face);
      return name;
    });
    family.catch(() => loading.delete(font));
    loading.set(font, family);
  }
  return family;
}

/** The pen of a canvas of its own, with the letters as the shop sets them: at their own widths, not kerned. */
async function penOf(font: string): Promise<CanvasRenderingContext2D> {
  const family = await familyOf(font);
  const pen = document.createElement('canvas').getContext('2d')!;
  pen.font = `1000px ${family}`;
  const emPx = (CAP_PX / pen.measureText('H').actualBoundingBoxAscent) * 1000;
  pen.font = `${emPx}px ${family}`;
  pen.fontKerning = 'none';
  return pen;
}

/**
 * How wide a name is for one that has capitals 1 mm high, mm; 0 when nothing of it can be seen.
 * @throws when the face of type does not arrive
 */
export async function measureName(font: string, text: string): Promise<number> {
  return (await penOf(font)).measureText(text.normalize('NFC')).width / CAP_PX;
}

/**
 * Draws a name. @param squeeze how much narrower than the font: 1 as it is, 0.5 half as wide
 * @throws when the face of type does not arrive
 */
export async function drawName(
  font: string,
  hex: string,
  text: string,
  squeeze: number,
): Promise<NamePicture | null> {
  const pen = await penOf(font);
  const { canvas, font: style } = pen;
  const letters = text.normalize('NFC');
  const box = pen.measureText(letters);
  const width = box.width * squeeze;
  const height = box.actualBoundingBoxAscent + box.actualBoundingBoxDescent;
  if (!(width > 0 && height > 0)) return null;
  const scale = Math.min(1, SIDE_MOST_PX / width);
  canvas.width = Math.ceil(width * scale);
  canvas.height = Math.ceil(height * scale);
  // a canvas that changes its size forgets
  pen.font = style;
  pen.fontKerning = 'none';
  pen.fillStyle = hex;
  pen.scale(squeeze * scale, scale);
  pen.fillText(letters, 0, box.actualBoundingBoxAscent);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done));
  return blob && { address: URL.createObjectURL(blob), widthPx: canvas.width, heightPx: canvas.height };
}
