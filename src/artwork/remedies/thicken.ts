import { eachDistanceRow } from '../distance-transform.ts';
import { alphaPlane } from '../measure/plane.ts';
import { StrokeTracer } from '../measure/stroke-tracer.ts';
import { blankRaster, type Raster } from '../raster.ts';
import { eachPixelWithin } from './dilate.ts';
import { compositeOver } from './outline.ts';
import { inkBoxOf } from './trim.ts';

/**
 * Thickens strokes thinner than `toPx` to that width, in their own color. Only strokes: corners, serifs and whatever is
 * wide enough already stay as they are. The canvas grows where a thickened stroke needs room.
 */
export function thicken(raster: Raster, toPx: number): Raster {
  const box = inkBoxOf(raster);
  const same = { width: raster.width, height: raster.height, data: Uint8Array.from(raster.data) };
  if (box === null) return same;
  const middles = thinMiddles(raster, toPx);
  if (middles === null) return same;

  const room = Math.ceil(toPx / 2) + 1;
  const left = Math.max(0, room - box.left);
  const top = Math.max(0, room - box.top);
  const right = Math.max(0, room - (raster.width - box.left - box.width));
  const bottom = Math.max(0, room - (raster.height - box.top - box.height));
  const grown = blankRaster(raster.width + left + right, raster.height + top + bottom);
  const { width, height, data } = grown;
  const seeds = new Uint8Array(width * height);
  for (let y = 0; y < raster.height; y++)
    seeds.set(middles.subarray(y * raster.width, (y + 1) * raster.width), (y + top) * width + left);

  // A little over, so that what is measured afterwards is not found a hair too thin again.
  const radius = toPx / 2 + 0.15;
  eachPixelWithin(seeds, width, height, radius + 0.5, (x, y, distancePx) => {
    const from = nearestSeed(seeds, width, height, x, y, distancePx);
    const source = 4 * ((Math.floor(from / width) - top) * raster.width + (from % width) - left);
    const at = 4 * (y * width + x);
    data[at] = raster.data[source]!;
    data[at + 1] = raster.data[source + 1]!;
    data[at + 2] = raster.data[source + 2]!;
    data[at + 3] = Math.round(255 * Math.min(1, radius + 0.5 - distancePx));
  });
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      compositeOver(raster.data, 4 * (y * raster.width + x), data, 4 * ((y + top) * width + x + left));
  return grown;
}

/** Marks (1) the middles of strokes thinner than `toPx`; null when there are none. */
function thinMiddles(raster: Raster, toPx: number): Uint8Array | null {
  const { width, height } = raster;
  const wide = width + 2;
  const mask = new Uint8Array(wide * (height + 2));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (raster.data[4 * (y * width + x) + 3]! >= 128) mask[(y + 1) * wide + x + 1] = 1;

  const probe = new StrokeTracer(alphaPlane(raster, { left: 0, top: 0, width, height }), false);
  const middles = new Uint8Array(width * height);
  const looked = new Uint8Array(width * height);
  const most = ((toPx + 1) / 2) ** 2;
  let any = false;
  // A pixel is on the middle when its distance is no less than that of its neighbors left and right, or above and
  // below: three rows at a time.
  const rows: Uint32Array[] = [];
  const look = (y: number): void => {
    const [above, row, below] = rows as [Uint32Array, Uint32Array, Uint32Array];
    for (let x = 0; x < width; x++) {
      const own = row[x + 1]!;
      if (own === 0 || own > most || looked[y * width + x] === 1) continue;
      const across = own >= row[x]! && own >= row[x + 2]!;
      const along = own >= above[x + 1]! && own >= below[x + 1]!;
      if (!across && !along) continue;
      const stroke = probe.strokeAt(x, y, Math.sqrt(own));
      if (stroke === null) continue;
      const thin = stroke.widthPx < toPx - 0.25;
      const { path } = stroke;
      for (let index = 0; index + 3 < path.length; index += 2)
        eachStep(path[index]!, path[index + 1]!, path[index + 2]!, path[index + 3]!, (px, py) => {
          if (px < 0 || py < 0 || px >= width || py >= height) return;
          const at = py * width + px;
          if (thin && mask[(py + 1) * wide + px + 1] === 1) {
            middles[at] = 1;
            any = true;
          }
          for (let dy = -1; dy <= 1; dy++)
            for (let dx = -1; dx <= 1; dx++)
              if (px + dx >= 0 && px + dx < width && py + dy >= 0 && py + dy < height)
                looked[at + dy * width + dx] = 1;
        });
    }
  };
  eachDistanceRow(mask, wide, height + 2, (y, squared) => {
    rows.push(squared.slice());
    if (rows.length < 3) return;
    look(y - 2);
    rows.shift();
  });
  return any ? middles : null;
}

function eachStep(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  onPixel: (x: number, y: number) => void,
): void {
  const steps = Math.max(1, Math.ceil(2 * Math.hypot(x1 - x0, y1 - y0)));
  for (let step = 0; step <= steps; step++)
    onPixel(Math.round(x0 + ((x1 - x0) * step) / steps), Math.round(y0 + ((y1 - y0) * step) / steps));
}

/** The seed at that distance: one on the circle around the pixel. */
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
