import type { PixelBox } from '../../contract/facts.ts';
import { hexOfRgb } from '../color/hex.ts';
import { FloodFill } from '../flood-fill.ts';
import type { Raster } from '../raster.ts';
import type { InkPlane } from './plane.ts';

/** Of the pixels along the edge of the ink box, the share that must be opaque and of the background color. */
const EDGE_SHARE = 0.9;
/** A background covers at least this share of the ink box, and leaves at least `MOTIF_LEAST` of it as motif. */
const GROUND_LEAST = 0.05;
const MOTIF_LEAST = 0.0005;
/** How far a channel may differ from the background color, 0..255: flat art, good JPEG, coarse JPEG; and at most. */
const TOLERANCES = [6, 14, 24] as const;
const TOLERANCE_MOST = 28;
/** Of the places where background ends, the share that must end in a clear step; a photo fades. */
const STEP_SHARE = 0.5;
/** An ink box this much of the canvas each way fills it. */
const CANVAS_SHARE = 0.98;
/** Every channel of a near-white is at least this. */
const NEAR_WHITE = 245;
const STEP_AFTER_PX = 6;

export type Background = {
  readonly hex: string;
  /** pixels of the background color, enclosed ones too. */
  readonly pixels: number;
  readonly motifBox: PixelBox;
  /** ink of the motif alone, told by how far its color is from the background. */
  readonly motif: InkPlane;
};

/**
 * Finds a flat opaque background: nearly all of the ink box's edge has one color, it reaches inward, something else
 * stands on it, and where it ends it ends in a step. Noise as JPEG leaves it is allowed for by its own measure.
 *
 * @param memory to work in, a byte for each pixel of the ink box or more; left out, new memory is taken.
 */
export function findBackground(
  raster: Raster,
  inkBox: PixelBox,
  memory: ArrayBuffer = new ArrayBuffer(inkBox.width * inkBox.height),
): Background | null {
  if (inkBox.width < 8 || inkBox.height < 8) return null;
  const edge = edgeColor(raster, inkBox);
  if (edge === null) return null;
  // Whoever left clear room around a colored box meant the box; a white one is more likely a leftover.
  if (!fillsCanvas(raster, inkBox) && Math.min(...edge.rgb) < NEAR_WHITE) return null;
  const difference = differences(raster, inkBox, edge.rgb);
  const reached = new Uint8Array(memory, 0, inkBox.width * inkBox.height);
  // Flat art settles at the first tolerance; the ringing of JPEG around a motif may need the wider ones.
  for (const tolerance of new Set(TOLERANCES.map((least) => Math.max(least, edge.tolerance)))) {
    // The wider the tolerance, the less is motif: a flat area alone is told before it is flooded.
    if (countOver(difference, 2 * tolerance) < MOTIF_LEAST * difference.length) return null;
    const found = settle(difference, reached, inkBox, tolerance);
    if (found === null) continue;
    let pixels = 0;
    for (let at = 0; at < difference.length; at++) if (difference[at]! <= tolerance) pixels++;
    const { left, top, width, height } = found;
    return {
      hex: hexOfRgb(...edge.rgb),
      pixels,
      motifBox: { left: inkBox.left + left, top: inkBox.top + top, width, height },
      motif: {
        width: inkBox.width,
        height: inkBox.height,
        bytes: difference,
        shift: 0,
        offset: 0,
        threshold: Math.max(2 * tolerance, 32),
        full: null,
        box: found,
        tiles: null,
      },
    };
  }
  return null;
}

function countOver(difference: Uint8Array, least: number): number {
  let count = 0;
  for (let at = 0; at < difference.length; at++) if (difference[at]! > least) count++;
  return count;
}

/** The box of the motif if background and motif part clearly at this tolerance. */
function settle(
  difference: Uint8Array,
  reached: Uint8Array,
  inkBox: PixelBox,
  tolerance: number,
): PixelBox | null {
  const area = inkBox.width * inkBox.height;
  reached.fill(0);
  const flood = new FloodFill(reached, inkBox.width, inkBox.height, (at) => difference[at]! <= tolerance);
  flood.seedEdges();
  if (flood.run() < GROUND_LEAST * area) return null;
  const motif = motifOf(difference, reached, inkBox, tolerance);
  if (motif === null || motif.count < MOTIF_LEAST * area) return null;
  return endsInSteps(difference, reached, inkBox, tolerance) ? motif.box : null;
}

function fillsCanvas(raster: Raster, box: PixelBox): boolean {
  return box.width >= CANVAS_SHARE * raster.width && box.height >= CANVAS_SHARE * raster.height;
}

type EdgeColor = { rgb: readonly [number, number, number]; tolerance: number };

/** The most frequent color along the edge of the ink box with what it scatters by, or null when no color rules there. */
function edgeColor(raster: Raster, box: PixelBox): EdgeColor | null {
  const { width, data } = raster;
  const pixels: number[] = [];
  const add = (x: number, y: number): void => {
    pixels.push(4 * (y * width + x));
  };
  const right = box.left + box.width - 1;
  const bottom = box.top + box.height - 1;
  for (let x = box.left; x <= right; x++) {
    add(x, box.top);
    add(x, bottom);
  }
  for (let y = box.top + 1; y < bottom; y++) {
    add(box.left, y);
    add(right, y);
  }
  const counts = new Map<number, { count: number; red: number; green: number; blue: number }>();
  let most: { count: number; red: number; green: number; blue: number } | null = null;
  let opaque = 0;
  for (const at of pixels) {
    if (data[at + 3] !== 255) continue;
    opaque++;
    const key = ((data[at]! >>> 4) << 8) | ((data[at + 1]! >>> 4) << 4) | (data[at + 2]! >>> 4);
    let entry = counts.get(key);
    if (entry === undefined) {
      entry = { count: 0, red: 0, green: 0, blue: 0 };
      counts.set(key, entry);
    }
    entry.count++;
    entry.red += data[at]!;
    entry.green += data[at + 1]!;
    entry.blue += data[at + 2]!;
    if (most === null || entry.count > most.count) most = entry;
  }
  if (most === null || opaque < EDGE_SHARE * pixels.length) return null;
  // The bin's mean may lie off the middle of the noise; twice the mean of what is near it settles there.
  let rgb: [number, number, number] = [
    most.red / most.count,
    most.green / most.count,
    most.blue / most.count,
  ];
  for (let turn = 0; turn < 2; turn++) rgb = meanNear(data, pixels, rgb, TOLERANCE_MOST) ?? rgb;
  const spread: number[] = [];
  for (const at of pixels) spread.push(data[at + 3] === 255 ? channelDifference(data, at, rgb) : 255);
  spread.sort((one, other) => one - other);
  const typical = spread[Math.floor(EDGE_SHARE * (spread.length - 1))]!;
  if (typical > TOLERANCE_MOST) return null;
  const tolerance = Math.min(TOLERANCE_MOST, 3 * typical + 4);
  return { rgb: [Math.round(rgb[0]), Math.round(rgb[1]), Math.round(rgb[2])], tolerance };
}

function meanNear(
  data: Raster['data'],
  pixels: readonly number[],
  rgb: readonly [number, number, number],
  within: number,
): [number, number, number] | null {
  let count = 0;
  const sum: [number, number, number] = [0, 0, 0];
  for (const at of pixels) {
    if (data[at + 3] !== 255 || channelDifference(data, at, rgb) > within) continue;
    count++;
    sum[0] += data[at]!;
    sum[1] += data[at + 1]!;
    sum[2] += data[at + 2]!;
  }
  return count === 0 ? null : [sum[0] / count, sum[1] / count, sum[2] / count];
}

function channelDifference(data: Raster['data'], at: number, rgb: readonly [number, number, number]): number {
  return Math.max(
    Math.abs(data[at]! - rgb[0]),
    Math.abs(data[at + 1]! - rgb[1]),
    Math.abs(data[at + 2]! - rgb[2]),
  );
}

/** Largest channel difference of every pixel of the box from the color; pixels that are not opaque differ wholly. */
function differences(raster: Raster, box: PixelBox, rgb: readonly [number, number, number]): Uint8Array {
  const { width, data } = raster;
  const result = new Uint8Array(box.width * box.height);
  const [red, green, blue] = rgb;
  for (let y = 0, to = 0; y < box.height; y++) {
    let at = 4 * ((box.top + y) * width + box.left);
    for (let x = 0; x < box.width; x++, at += 4, to++) {
      if (data[at + 3] !== 255) {
        // What is clear prints as little as the background would; what is soft counts as motif.
        result[to] = data[at + 3] === 0 ? 0 : 255;
        continue;
      }
      let most = data[at]! - red;
      if (most < 0) most = -most;
      let other = data[at + 1]! - green;
      if (other < 0) other = -other;
      if (other > most) most = other;
      other = data[at + 2]! - blue;
      if (other < 0) other = -other;
      result[to] = Math.max(other, most);
    }
  }
  return result;
}

/** Box and size of what is neither background nor noise on it: differing by more than twice the tolerance. */
function motifOf(
  difference: Uint8Array,
  reached: Uint8Array,
  box: PixelBox,
  tolerance: number,
): { count: number; box: PixelBox } | null {
  let count = 0;
  let left = box.width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  for (let y = 0, at = 0; y < box.height; y++)
    for (let x = 0; x < box.width; x++, at++) {
      if (reached[at] === 1 || difference[at]! <= 2 * tolerance) continue;
      count++;
      if (x < left) left = x;
      if (x > right) right = x;
      if (top < 0) top = y;
      bottom = y;
    }
  if (count === 0) return null;
  return { count, box: { left, top, width: right - left + 1, height: bottom - top + 1 } };
}

/** Looks across each place where a row's background ends: a few pixels on, it must differ by far more than noise. */
function endsInSteps(difference: Uint8Array, reached: Uint8Array, box: PixelBox, tolerance: number): boolean {
  let ends = 0;
  let steps = 0;
  for (let y = 0; y < box.height; y++) {
    const row = y * box.width;
    for (let x = 1; x < box.width; x++) {
      if (reached[row + x] === reached[row + x - 1]) continue;
      const sign = reached[row + x] === 1 ? -1 : 1;
      const first = sign === 1 ? x : x - 1;
      let most = 0;
      for (let step = 0; step <= STEP_AFTER_PX; step++) {
        const at = first + sign * step;
        if (at >= 0 && at < box.width) most = Math.max(most, difference[row + at]!);
      }
      ends++;
      if (most >= 2 * tolerance + 12) steps++;
    }
  }
  return ends > 0 && steps >= STEP_SHARE * ends;
}
