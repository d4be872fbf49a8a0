import type { PixelBox } from '../../contract/facts.ts';
import { hexOfRgb, type Rgb } from '../color/hex.ts';
import { FloodFill } from '../flood-fill.ts';
import type { Raster } from '../raster.ts';
import { borderColor } from './border-color.ts';
import type { InkPlane } from './plane.ts';

/** A background covers at least this share of the ink box, and leaves at least `MIN_MOTIF_SHARE` of it as motif. */
const MIN_BACKGROUND_SHARE = 0.05;
const MIN_MOTIF_SHARE = 0.0005;
/** How far a channel may differ from the background color, 0..255: flat art, good JPEG, coarse JPEG. */
const TOLERANCES = [6, 14, 24] as const;
/** Of the places where the background ends, the share that must be steps; a photo fades. */
const MIN_STEP_SHARE = 0.5;
/** How many pixels on a step must have happened. */
const STEP_PX = 6;
/** An ink box of at least this share of the canvas, each way, fills it. */
const MIN_CANVAS_SHARE = 0.98;
/** Every channel of a near-white color is at least this. */
const MIN_NEAR_WHITE = 245;
/** Smallest side of an ink box with a background, px. */
const MIN_SIDE_PX = 8;

/** A flat opaque background and what stands on it. */
export type Background = {
  readonly hex: string;
  /** number of pixels of the background color, enclosed ones too. */
  readonly pixels: number;
  readonly motifBox: PixelBox;
  /** the ink of the motif alone, known by its difference from the background; its origin is that of the ink box. */
  readonly motif: InkPlane;
};

/**
 * Finds a flat opaque background: nearly all of the ink box's border has one color, it reaches inward, something else
 * stands on it, and it ends in steps. The tolerance grows with the noise of JPEG compression.
 *
 * @param memory work space, a byte for each pixel of the ink box or more; allocated by default.
 */
export function findBackground(
  raster: Raster,
  inkBox: PixelBox,
  memory: ArrayBuffer = new ArrayBuffer(inkBox.width * inkBox.height),
): Background | undefined {
  if (inkBox.width < MIN_SIDE_PX || inkBox.height < MIN_SIDE_PX) return undefined;
  const border = borderColor(raster, inkBox);
  if (border === undefined) return undefined;
  // A colored box with clear space around it is intended; a white one is more likely left over.
  if (!fillsCanvas(raster, inkBox) && Math.min(...border.rgb) < MIN_NEAR_WHITE) return undefined;
  const difference = differencesFrom(border.rgb, raster, inkBox);
  const filled = new Uint8Array(memory, 0, inkBox.width * inkBox.height);
  // Flat art succeeds with the first tolerance; JPEG artifacts around a motif may need the wider ones.
  for (const tolerance of new Set(TOLERANCES.map((least) => Math.max(least, border.tolerance)))) {
    // Wider tolerances leave even less motif: a uniform area is recognized without a flood fill.
    if (countAbove(difference, 2 * tolerance) < MIN_MOTIF_SHARE * difference.length) return undefined;
    const box = separate(difference, filled, inkBox, tolerance);
    if (box === undefined) continue;
    return {
      hex: hexOfRgb(...border.rgb),
      pixels: difference.length - countAbove(difference, tolerance),
      motifBox: { ...box, left: inkBox.left + box.left, top: inkBox.top + box.top },
      motif: {
        width: inkBox.width,
        height: inkBox.height,
        bytes: difference,
        shift: 0,
        offset: 0,
        threshold: Math.max(2 * tolerance, 32),
        full: undefined,
        box,
        tiles: undefined,
      },
    };
  }
  return undefined;
}

function fillsCanvas(raster: Raster, box: PixelBox): boolean {
  return box.width >= MIN_CANVAS_SHARE * raster.width && box.height >= MIN_CANVAS_SHARE * raster.height;
}

function countAbove(difference: Uint8Array, bound: number): number {
  let count = 0;
  for (let at = 0; at < difference.length; at++) if (difference[at]! > bound) count++;
  return count;
}

/** The box of the motif, relative to the ink box, if background and motif are clearly separate at this tolerance. */
function separate(
  difference: Uint8Array,
  filled: Uint8Array,
  inkBox: PixelBox,
  tolerance: number,
): PixelBox | undefined {
  const area = inkBox.width * inkBox.height;
  filled.fill(0);
  const fill = new FloodFill(filled, inkBox.width, inkBox.height, (at) => difference[at]! <= tolerance);
  fill.seedEdges();
  if (fill.run() < MIN_BACKGROUND_SHARE * area) return undefined;
  const motif = motifOf(difference, filled, inkBox, tolerance);
  if (motif === undefined || motif.count < MIN_MOTIF_SHARE * area) return undefined;
  return endsInSteps(difference, filled, inkBox, tolerance) ? motif.box : undefined;
}

/** Largest channel difference of every pixel of the box from the color. */
function differencesFrom([red, green, blue]: Rgb, { width, data }: Raster, box: PixelBox): Uint8Array {
  const differences = new Uint8Array(box.width * box.height);
  for (let y = 0, to = 0; y < box.height; y++) {
    let at = 4 * ((box.top + y) * width + box.left);
    for (let x = 0; x < box.width; x++, at += 4, to++) {
      if (data[at + 3] !== 255) {
        // Clear pixels count as background, partly transparent ones as motif.
        differences[to] = data[at + 3] === 0 ? 0 : 255;
        continue;
      }
      let most = data[at]! - red;
      if (most < 0) most = -most;
      let other = data[at + 1]! - green;
      if (other < 0) other = -other;
      if (other > most) most = other;
      other = data[at + 2]! - blue;
      if (other < 0) other = -other;
      differences[to] = Math.max(other, most);
    }
  }
  return differences;
}

/** Size and box of what is neither background nor its noise: it differs by more than twice the tolerance. */
function motifOf(
  difference: Uint8Array,
  filled: Uint8Array,
  box: PixelBox,
  tolerance: number,
): { count: number; box: PixelBox } | undefined {
  let count = 0;
  let left = box.width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  for (let y = 0, at = 0; y < box.height; y++)
    for (let x = 0; x < box.width; x++, at++) {
      if (filled[at] === 1 || difference[at]! <= 2 * tolerance) continue;
      count++;
      if (x < left) left = x;
      if (x > right) right = x;
      if (top < 0) top = y;
      bottom = y;
    }
  if (count === 0) return undefined;
  return { count, box: { left, top, width: right - left + 1, height: bottom - top + 1 } };
}

/** Whether the background mostly ends in steps: along a row, a few pixels on, the difference far exceeds the noise. */
function endsInSteps(difference: Uint8Array, filled: Uint8Array, box: PixelBox, tolerance: number): boolean {
  let ends = 0;
  let steps = 0;
  for (let y = 0; y < box.height; y++) {
    const row = y * box.width;
    for (let x = 1; x < box.width; x++) {
      if (filled[row + x] === filled[row + x - 1]) continue;
      const sign = filled[row + x] === 1 ? -1 : 1;
      const first = sign === 1 ? x : x - 1;
      let most = 0;
      for (let step = 0; step <= STEP_PX; step++) {
        const at = first + sign * step;
        if (at >= 0 && at < box.width) most = Math.max(most, difference[row + at]!);
      }
      ends++;
      if (most >= 2 * tolerance + 12) steps++;
    }
  }
  return ends > 0 && steps >= MIN_STEP_SHARE * ends;
}
