import { eachDistanceRow } from '../distance-transform.ts';
import { alphaPlane } from '../measure/plane.ts';
import { StrokeTracer } from '../measure/strokes/stroke-tracer.ts';
import { copyRaster, type Raster } from '../raster.ts';
import { eachPixelWithin } from './dilate.ts';
import { compositeOver, padCanvas } from './pad-canvas.ts';
import { inkBoxOf } from './trim.ts';

/** Strokes this much thinner than the target are left as they are, px. */
const SLACK_PX = 0.25;
/** Added to the radius, so that a measurement afterwards does not find the stroke slightly too thin, px. */
const EXTRA_RADIUS_PX = 0.15;

/**
 * Thickens strokes that are thinner than `toPx` to that width, in their own color. Corners, serifs and wide shapes stay
 * as they are. The canvas grows if a thickened stroke needs room.
 */
export function thicken(raster: Raster, toPx: number): Raster {
  const box = inkBoxOf(raster);
  const centerlines = box && thinCenterlines(raster, toPx);
  if (centerlines === undefined) return copyRaster(raster);

  const padded = padCanvas(raster, box!, Math.ceil(toPx / 2) + 1);
  const { canvas, left, top } = padded;
  const { width, height, data } = canvas;
  const seeds = new Uint8Array(width * height);
  for (let y = 0; y < raster.height; y++)
    seeds.set(centerlines.subarray(y * raster.width, (y + 1) * raster.width), (y + top) * width + left);

  const radius = toPx / 2 + EXTRA_RADIUS_PX;
  eachPixelWithin(seeds, width, height, radius + 0.5, (x, y, distancePx) => {
    const seed = nearestSeed(seeds, width, height, x, y, distancePx);
    const source = 4 * ((Math.floor(seed / width) - top) * raster.width + (seed % width) - left);
    const at = 4 * (y * width + x);
    data[at] = raster.data[source]!;
    data[at + 1] = raster.data[source + 1]!;
    data[at + 2] = raster.data[source + 2]!;
    data[at + 3] = Math.round(255 * Math.min(1, radius + 0.5 - distancePx));
  });
  compositeOver(raster, padded);
  return canvas;
}

/** A mask (1) of the centerlines of strokes thinner than `toPx`; undefined if there are none. */
function thinCenterlines(raster: Raster, toPx: number): Uint8Array | undefined {
  const { width, height } = raster;
  // A border of one clear pixel stands for everything outside the canvas.
  const maskWidth = width + 2;
  const mask = new Uint8Array(maskWidth * (height + 2));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (raster.data[4 * (y * width + x) + 3]! >= 128) mask[(y + 1) * maskWidth + x + 1] = 1;

  const tracer = new StrokeTracer(alphaPlane(raster, { left: 0, top: 0, width, height }), false);
  const centerlines = new Uint8Array(width * height);
  const traced = new Uint8Array(width * height);
  const maxSquared = ((toPx + 1) / 2) ** 2;
  let found = false;

  const markPath = (path: readonly number[], isThin: boolean): void => {
    eachPixelOfPath(path, (px, py) => {
      if (px < 0 || py < 0 || px >= width || py >= height) return;
      const at = py * width + px;
      if (isThin && mask[(py + 1) * maskWidth + px + 1] === 1) {
        centerlines[at] = 1;
        found = true;
      }
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++)
          if (px + dx >= 0 && px + dx < width && py + dy >= 0 && py + dy < height)
            traced[at + dy * width + dx] = 1;
    });
  };

  // A pixel is on the medial axis if its distance is no less than those of its neighbors left and right, or above and
  // below: three rows at a time.
  const rows: Uint32Array[] = [];
  const traceRow = (y: number): void => {
    const [above, row, below] = rows as [Uint32Array, Uint32Array, Uint32Array];
    for (let x = 0; x < width; x++) {
      const own = row[x + 1]!;
      if (own === 0 || own > maxSquared || traced[y * width + x] === 1) continue;
      const isRidgeAcross = own >= row[x]! && own >= row[x + 2]!;
      const isRidgeDown = own >= above[x + 1]! && own >= below[x + 1]!;
      if (!isRidgeAcross && !isRidgeDown) continue;
      const stroke = tracer.strokeAt(x, y, Math.sqrt(own));
      if (stroke !== undefined) markPath(stroke.path, stroke.widthPx < toPx - SLACK_PX);
    }
  };
  eachDistanceRow(mask, maskWidth, height + 2, (y, squared) => {
    rows.push(squared.slice());
    if (rows.length < 3) return;
    traceRow(y - 2);
    rows.shift();
  });
  return found ? centerlines : undefined;
}

/** Calls `onPixel` for the pixels along the straight pieces of a path of x, y. */
function eachPixelOfPath(path: readonly number[], onPixel: (x: number, y: number) => void): void {
  for (let index = 0; index + 3 < path.length; index += 2) {
    const x0 = path[index]!;
    const y0 = path[index + 1]!;
    const x1 = path[index + 2]!;
    const y1 = path[index + 3]!;
    const steps = Math.max(1, Math.ceil(2 * Math.hypot(x1 - x0, y1 - y0)));
    for (let step = 0; step <= steps; step++)
      onPixel(Math.round(x0 + ((x1 - x0) * step) / steps), Math.round(y0 + ((y1 - y0) * step) / steps));
  }
}

/** Index of a seed at exactly this distance from the pixel, which is that of the nearest. */
function nearestSeed(
  seeds: Uint8Array,
  width: number,
  height: number,
  x: number,
  y: number,
  distancePx: number,
): number {
  if (distancePx === 0) return y * width + x;
  const reach = Math.ceil(distancePx);
  const squared = Math.round(distancePx * distancePx);
  for (let dy = -reach; dy <= reach; dy++) {
    const rest = squared - dy * dy;
    if (rest < 0 || y + dy < 0 || y + dy >= height) continue;
    const dx = Math.round(Math.sqrt(rest));
    if (dx * dx !== rest) continue;
    if (x - dx >= 0 && seeds[(y + dy) * width + x - dx] === 1) return (y + dy) * width + x - dx;
    if (x + dx < width && seeds[(y + dy) * width + x + dx] === 1) return (y + dy) * width + x + dx;
  }
  throw new Error(`no seed lies ${distancePx} px from (${x}, ${y})`);
}
