import sharp from 'sharp';
import type { Raster } from '../../../src/artwork/index.ts';
import { type DrawingNode, writeDrawing } from './drawing-node.ts';
import type { ViewBox } from './lengths.ts';

/** At 96 dpi the renderer's px are CSS px and agree with its in, mm and pt. */
const DENSITY = 96;
/** The loader has scale 1 at 72 dpi, so at 96 it draws a third larger. */
const LOADER_SCALE = DENSITY / 72;

/**
 * Renders part of a cleaned drawing. It is passed as bytes, never as a path, so that neighboring files cannot be found.
 * @param extraStyle added to the drawing's own style sheets
 */
export async function renderDrawing(
  root: DrawingNode,
  view: ViewBox,
  widthPx: number,
  heightPx: number,
  preserveAspectRatio: string | null,
  extraStyle = '',
): Promise<Raster> {
  const attributes = new Map(root.attributes);
  for (const name of ['x', 'y']) attributes.delete(name);
  const width = `${widthPx / LOADER_SCALE}px`;
  const height = `${heightPx / LOADER_SCALE}px`;
  attributes.set('width', width);
  attributes.set('height', height);
  // The drawing's own style would override the attributes.
  const style = attributes.get('style');
  attributes.set(
    'style',
    `${style === undefined ? '' : `${style};`}width:${width}!important;height:${height}!important`,
  );
  attributes.set('viewBox', `${view.x} ${view.y} ${view.width} ${view.height}`);
  if (preserveAspectRatio === null) attributes.delete('preserveAspectRatio');
  else attributes.set('preserveAspectRatio', preserveAspectRatio);
  const sheet: DrawingNode = { name: 'style', attributes: new Map(), children: [extraStyle] };
  const sized: DrawingNode = {
    name: root.name,
    attributes,
    children: extraStyle === '' ? root.children : [...root.children, sheet],
  };
  const { data, info } = await sharp(Buffer.from(writeDrawing(sized)), {
    density: DENSITY,
    failOn: 'error',
    limitInputPixels: (widthPx + 2) * (heightPx + 2),
    unlimited: true,
  })
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data };
}
