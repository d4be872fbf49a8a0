import type { ArtworkFacts, PixelBox } from '../../contract/facts.ts';
import { hexOfRgb } from '../color/hex.ts';
import { labOfRgb } from '../color/lab.ts';
import { LINEAR_OF_BYTE } from '../color/srgb.ts';
import type { Raster } from '../raster.ts';

/** How deep the ink is looked at, px from its outer end: the rim is gone by there. */
const DEPTH_PX = 5;
/** A rim left by cutting out is no wider than this, px. */
const RIM_MOST_PX = 3;
/** Rim pixels are at least this light and this colorless, and lighter than the ink behind by this much. */
const RIM_LIGHTNESS = 60;
const RIM_CHROMA = 25;
const RIM_STEP = 30;
/** Of the ends of the ink, the share that must show a rim. */
const RIM_SHARE = 0.25;
/** Ends looked at before a picture is judged, at least. */
const ENDS_LEAST = 8;
/** About how many rows of a tall picture are looked at. */
const ROWS_LOOKED_AT = 1500;
/** Fainter pixels are too thin to see. */
const VISIBLE_ALPHA = 32;

/**
 * Finds the light rim that cutting a dark motif out of a white ground leaves: at the ends of its rows the ink is light
 * and colorless for a pixel or two, and dark five pixels in. A light outline wider than that is taken for meant.
 */
export function findLightRim(raster: Raster, inkBox: PixelBox): ArtworkFacts['lightRim'] {
  const { width, data } = raster;
  let ends = 0;
  let rims = 0;
  const sum: [number, number, number] = [0, 0, 0];
  let left = width;
  let right = -1;
  let top = -1;
  let bottom = -1;

  const look = (x: number, y: number, inward: 1 | -1): void => {
    const at = 4 * (y * width + x);
    const deep = at + 4 * inward * DEPTH_PX;
    for (let step = 1; step <= DEPTH_PX; step++)
      if (data[at + 4 * inward * step + 3]! < VISIBLE_ALPHA) return;
    if (data[deep + 3]! < 128) return;
    ends++;
    const inside = luminance(data, deep);
    // The first pixel or two carry the rim: whichever is lighter.
    const next = at + 4 * inward;
    const rim = luminance(data, next) > luminance(data, at) ? next : at;
    if (luminance(data, rim) < 0.28 || luminance(data, rim) - inside < 0.05) return;
    const [lightness, a, b] = labOfRgb([data[rim]!, data[rim + 1]!, data[rim + 2]!]);
    if (lightness < RIM_LIGHTNESS || Math.hypot(a, b) > RIM_CHROMA) return;
    const [deepLightness] = labOfRgb([data[deep]!, data[deep + 1]!, data[deep + 2]!]);
    if (lightness - deepLightness < RIM_STEP) return;
    // Still light further in: an outline somebody drew.
    const behind = luminance(data, at + 4 * inward * RIM_MOST_PX);
    if (behind - inside > (luminance(data, rim) - inside) / 2) return;
    rims++;
    sum[0] += data[rim]!;
    sum[1] += data[rim + 1]!;
    sum[2] += data[rim + 2]!;
    if (x < left) left = x;
    if (x > right) right = x;
    if (top < 0) top = y;
    bottom = y;
  };

  const last = inkBox.left + inkBox.width - 1;
  const step = Math.max(1, Math.floor(inkBox.height / ROWS_LOOKED_AT));
  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y += step) {
    let inked = false;
    let start = 0;
    for (let x = inkBox.left; x <= last + 1; x++) {
      const now = x <= last && data[4 * (y * width + x) + 3]! >= VISIBLE_ALPHA;
      if (now === inked) continue;
      if (now) start = x;
      else if (x - start > 2 * DEPTH_PX) {
        // The border of the picture is no cut-out edge.
        if (start > 0) look(start, y, 1);
        if (x < width) look(x - 1, y, -1);
      }
      inked = now;
    }
  }
  if (ends < ENDS_LEAST || rims < RIM_SHARE * ends) return null;
  return {
    share: rims / ends,
    hex: hexOfRgb(sum[0] / rims, sum[1] / rims, sum[2] / rims),
    box: { left, top, width: right - left + 1, height: bottom - top + 1 },
  };
}

function luminance(data: Raster['data'], at: number): number {
  return (
    0.2126 * LINEAR_OF_BYTE[data[at]!]! +
    0.7152 * LINEAR_OF_BYTE[data[at + 1]!]! +
    0.0722 * LINEAR_OF_BYTE[data[at + 2]!]!
  );
}
