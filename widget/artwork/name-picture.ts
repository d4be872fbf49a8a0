import condensedLatin from '@fontsource/barlow-condensed/files/barlow-condensed-latin-700-normal.woff2?url&no-inline';
import condensedMore from '@fontsource/barlow-condensed/files/barlow-condensed-latin-ext-700-normal.woff2?url&no-inline';
import slabLatin from '@fontsource/bitter/files/bitter-latin-700-normal.woff2?url&no-inline';
import slabMore from '@fontsource/bitter/files/bitter-latin-ext-700-normal.woff2?url&no-inline';
import type { Assets } from './assets.ts';

/** Files of the faces of type that names are set in, by their ids in the catalog: name in the package, and address. */
const FONT_FILES: Readonly<Record<string, readonly (readonly [name: string, bundled: string])[]>> = {
  'condensed-bold': [
    ['barlow-condensed-latin-700-normal', condensedLatin],
    ['barlow-condensed-latin-ext-700-normal', condensedMore],
  ],
  'slab-bold': [
    ['bitter-latin-700-normal', slabLatin],
    ['bitter-latin-ext-700-normal', slabMore],
  ],
};

/** A picture of a name's letters. */
export type NamePicture = {
  readonly address: string;
  readonly widthPx: number;
  readonly heightPx: number;
};

/** Height of the capitals in the picture, px. */
const CAP_PX = 160;
const SIDE_MOST_PX = 4096;

const loading = new Map<string, Promise<string>>();

/** Loads a face of type for the page under a name of our own. Rejects when one of its files does not load. */
function familyOf(assets: Assets, font: string): Promise<string> {
  const files = (FONT_FILES[font] ?? []).map(([name, bundled]) =>
    assets.address(`fonts/${name}.woff2`, bundled),
  );
  const key = files.join(' ');
  let family = loading.get(key);
  if (!family) {
    const name = `platen-${font}`;
    const load = (address: string) =>
      new FontFace(name, `url(${JSON.stringify(address)})`).load().catch((error: unknown) => {
        assets.report(address);
        throw error;
      });
    family = Promise.all(files.map(load)).then((faces) => {
      if (faces.length === 0) throw new Error(`there is no file of the font "${font}"`);
      for (const face of faces) document.fonts.add(face);
      return name;
    });
    family.catch(() => loading.delete(key));
    loading.set(key, family);
  }
  return family;
}

/** The pen of a canvas of its own, with the letters as the shop sets them: at their own widths, not kerned. */
async function penOf(assets: Assets, font: string): Promise<CanvasRenderingContext2D> {
  const family = await familyOf(assets, font);
  const pen = document.createElement('canvas').getContext('2d')!;
  pen.font = `1000px ${family}`;
  const emPx = (CAP_PX / pen.measureText('H').actualBoundingBoxAscent) * 1000;
  pen.font = `${emPx}px ${family}`;
  pen.fontKerning = 'none';
  return pen;
}

/** Draws names with the faces of type of the package. Its methods reject when a face does not load. */
export const nameDrawing = (assets: Assets) => ({
  /** How wide a name is at capitals 1 mm high, mm; 0 when nothing of it can be seen. */
  async measureName(font: string, text: string): Promise<number> {
    return (await penOf(assets, font)).measureText(text.normalize('NFC')).width / CAP_PX;
  },

  /** @param squeeze how much narrower than the font: 1 as it is, 0.5 half as wide */
  async drawName(font: string, hex: string, text: string, squeeze: number): Promise<NamePicture | null> {
    return draw(await penOf(assets, font), hex, text, squeeze);
  },
});

async function draw(
  pen: CanvasRenderingContext2D,
  hex: string,
  text: string,
  squeeze: number,
): Promise<NamePicture | null> {
  const { canvas, font: style } = pen;
  const letters = text.normalize('NFC');
  const box = pen.measureText(letters);
  const width = box.width * squeeze;
  const height = box.actualBoundingBoxAscent + box.actualBoundingBoxDescent;
  if (!(width > 0 && height > 0)) return null;
  const scale = Math.min(1, SIDE_MOST_PX / width);
  canvas.width = Math.ceil(width * scale);
  canvas.height = Math.ceil(height * scale);
  // resizing a canvas resets its state
  pen.font = style;
  pen.fontKerning = 'none';
  pen.fillStyle = hex;
  pen.scale(squeeze * scale, scale);
  pen.fillText(letters, 0, box.actualBoundingBoxAscent);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done));
  return blob && { address: URL.createObjectURL(blob), widthPx: canvas.width, heightPx: canvas.height };
}
