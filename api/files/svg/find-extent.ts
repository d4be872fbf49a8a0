import type { Raster } from '../../../src/artwork/index.ts';
import type { DrawingNode } from './drawing-node.ts';
import type { ViewBox } from './lengths.ts';
import { renderDrawing } from './render-drawing.ts';

/** How far from its origin to look for a drawing that states no size, in its own units. Our own choice. */
const REACH = 16_384;
/** Side of each rendering, px. */
const RENDER_PX = 1024;
/** Most renderings; for a small drawing each is about a hundred times finer than the last. */
const MAX_RENDERINGS = 4;

/** With round joins and caps even a shape far smaller than a pixel makes a dot. */
const VISIBLE = [
  'stroke:#000',
  'stroke-opacity:1',
  'stroke-dasharray:none',
  'stroke-linejoin:round',
  'stroke-linecap:round',
]
  .map((declaration) => `${declaration}!important`)
  .join(';');

/**
 * Finds the bounding box of a drawing that states no size, by rendering it ever closer; null if there is no ink within
 * reach.
 */
export async function findExtent(root: DrawingNode): Promise<ViewBox | null> {
  let view: ViewBox = { x: -REACH, y: -REACH, width: 2 * REACH, height: 2 * REACH };
  for (let turn = 0; turn < MAX_RENDERINGS; turn++) {
    const scale = RENDER_PX / Math.max(view.width, view.height);
    const widthPx = Math.max(1, Math.round(view.width * scale));
    const heightPx = Math.max(1, Math.round(view.height * scale));
    // From afar a small part covers too little of a pixel; a stroke two pixels wide makes it visible.
    const last = turn === MAX_RENDERINGS - 1;
    const stroke = last ? '' : `*{${VISIBLE};stroke-width:${2 / scale}px!important}`;
    const raster = await renderDrawing(root, view, widthPx, heightPx, 'none', stroke);
    const box = inkBox(raster);
    if (box === null) return null;
    const unitX = view.width / raster.width;
    const unitY = view.height / raster.height;
    const margin = last ? 0 : 2;
    view = {
      x: view.x + (box.left - margin) * unitX,
      y: view.y + (box.top - margin) * unitY,
      width: (box.right - box.left + 2 * margin) * unitX,
      height: (box.bottom - box.top + 2 * margin) * unitY,
    };
  }
  return view;
}

type Box = { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };

/** The bounding box of pixels with any alpha; right and bottom are exclusive. */
function inkBox({ width, height, data }: Raster): Box | null {
  let left = width;
  let right = 0;
  let top = height;
  let bottom = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (data[4 * (y * width + x) + 3] === 0) continue;
      if (x < left) left = x;
      if (x >= right) right = x + 1;
      if (y < top) top = y;
      bottom = y + 1;
    }
  }
  return right === 0 ? null : { left, top, right, bottom };
}
