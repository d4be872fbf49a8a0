import { ciede2000 } from '../color/ciede2000.ts';
import { rgbOfHex } from '../color/hex.ts';
import { type Lab, labOfHex, labOfRgb } from '../color/lab.ts';
import { FloodFill } from '../flood-fill.ts';
import type { Raster } from '../raster.ts';

/** How far from what was removed a pixel may still be mixed with it, px. */
const MIXED_PX = 2;
/** Where its own color is looked for, px. */
const LOOK_PX = 4;
/** Specks of noise are at most this many pixels and within this many tolerances of the background. */
const SPECK_MOST_PX = 24;
const SPECK_TOLERANCES = 3;
/** A share of ink over the first is ink of its own away from the very edge, over the second anywhere. */
const MOSTLY = 0.8;
const NEARLY_ALL = 0.97;
/** A share of ink under this is noise on the background. */
const LEAST_SHARE = 0.15;
/** Mixed colors lie on the straight line from the background to their own: least cosine to count as such. */
const IN_LINE = 0.9;

export type RemoveBackground = {
  /** color of the background, `#rrggbb`. */
  readonly hex: string;
  /** CIEDE2000 distance from it that is still background. */
  readonly tolerance: number;
  /** also areas of that color that ink encloses. */
  readonly enclosed: boolean;
};

/**
 * Clears the background: all pixels of its color that hang together with the edge of the canvas or with clear pixels.
 * Pixels along the cut hold some of the background's color; that share is worked out from the ink behind them and taken
 * out of both their color and their alpha, so that no rim stays on another cloth.
 */
export function removeBackground(raster: Raster, { hex, tolerance, enclosed }: RemoveBackground): Raster {
  const { width, height } = raster;
  const isGround = groundTest(hex, tolerance);
  const removed = enclosed ? everyGround(raster, isGround) : connectedGround(raster, isGround);
  clearSpecks(raster, removed, groundTest(hex, SPECK_TOLERANCES * tolerance));
  const data = Uint8Array.from(raster.data);
  const ground = rgbOfHex(hex);
  const lab = labOfHex(hex);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) {
      if (raster.data[4 * at + 3] === 0) continue;
      if (removed[at] === 1) data.fill(0, 4 * at, 4 * at + 4);
      else if (touches(removed, width, height, x, y, MIXED_PX))
        unmix(raster, removed, x, y, ground, lab, tolerance, data);
    }
  return { width, height, data };
}

type GroundTest = (red: number, green: number, blue: number) => boolean;

/** Remembers the answer for the colors met last: pictures repeat themselves. */
function groundTest(hex: string, tolerance: number): GroundTest {
  const lab = labOfHex(hex);
  const slots = 1 << 16;
  const keys = new Int32Array(slots).fill(-1);
  const answers = new Uint8Array(slots);
  return (red, green, blue) => {
    const key = (red << 16) | (green << 8) | blue;
    const slot = Math.imul(key, 0x9e3779b1) >>> 16;
    if (keys[slot] !== key) {
      keys[slot] = key;
      answers[slot] = ciede2000(lab, labOfRgb([red, green, blue])) <= tolerance ? 1 : 0;
    }
    return answers[slot] === 1;
  };
}

function everyGround({ data }: Raster, isGround: GroundTest): Uint8Array {
  const removed = new Uint8Array(data.length / 4);
  for (let at = 0; at < removed.length; at++)
    if (data[4 * at + 3] !== 0 && isGround(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!))
      removed[at] = 1;
  return removed;
}

/** Fills inward from the edge of the canvas, through clear pixels too, span by span. */
function connectedGround({ width, height, data }: Raster, isGround: GroundTest): Uint8Array {
  const reached = new Uint8Array(width * height);
  const flood = new FloodFill(
    reached,
    width,
    height,
    (at) => data[4 * at + 3] === 0 || isGround(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!),
  );
  flood.seedEdges();
  // Islands of clear pixels that no background reaches are beginnings too.
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) if (data[4 * at + 3] === 0) flood.seedAt(x, y);
  flood.run();
  for (let at = 0; at < reached.length; at++) if (data[4 * at + 3] === 0) reached[at] = 0;
  return reached;
}

/**
 * Adds to what is removed the small islands nearly of the background's color that touch no other ink: what JPEG leaves
 * around a motif.
 */
function clearSpecks(raster: Raster, removed: Uint8Array, isNear: GroundTest): void {
  const { width, height, data } = raster;
  const isInk = (at: number): boolean => removed[at] === 0 && data[4 * at + 3] !== 0;
  const seen = new Uint8Array(width * height);
  const speck: number[] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] === 1 || !isInk(start)) continue;
    if (!isNear(data[4 * start]!, data[4 * start + 1]!, data[4 * start + 2]!)) continue;
    const x = start % width;
    if (!touches(removed, width, height, x, (start - x) / width, MIXED_PX)) continue;
    speck.length = 0;
    speck.push(start);
    seen[start] = 1;
    let alone = true;
    for (let index = 0; index < speck.length && alone; index++) {
      const at = speck[index]!;
      const left = at % width;
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++) {
          if (left + dx < 0 || left + dx >= width) continue;
          const other = at + dy * width + dx;
          if (other < 0 || other >= seen.length || !isInk(other) || speck.includes(other)) continue;
          seen[other] = 1;
          speck.push(other);
          if (!isNear(data[4 * other]!, data[4 * other + 1]!, data[4 * other + 2]!)) alone = false;
        }
      if (speck.length > SPECK_MOST_PX) alone = false;
    }
    if (alone) for (const at of speck) removed[at] = 1;
  }
}

/** Whether anything within `reach` px across and down was removed. */
function touches(
  removed: Uint8Array,
  width: number,
  height: number,
  x: number,
  y: number,
  reach: number,
): boolean {
  const top = Math.max(0, y - reach);
  const bottom = Math.min(height - 1, y + reach);
  const left = Math.max(0, x - reach);
  const right = Math.min(width - 1, x + reach);
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) if (removed[row * width + column] === 1) return true;
  return false;
}

/**
 * Splits a pixel into background and ink: its own color is the nearby ink farthest from the background in the same
 * direction of color; its share of ink is how far along that line it lies.
 */
function unmix(
  raster: Raster,
  removed: Uint8Array,
  x: number,
  y: number,
  ground: readonly [number, number, number],
  groundLab: Lab,
  tolerance: number,
  into: Uint8Array,
): void {
  const { width, height, data } = raster;
  const at = 4 * (y * width + x);
  const red = data[at]! - ground[0];
  const green = data[at + 1]! - ground[1];
  const blue = data[at + 2]! - ground[2];
  const length = Math.sqrt(red * red + green * green + blue * blue);
  if (length === 0) return;
  const deltaE = ciede2000(groundLab, labOfRgb([data[at]!, data[at + 1]!, data[at + 2]!]));
  // So close to the background the direction of the color is mostly noise, and may be overshoot.
  const inLine = deltaE < SPECK_TOLERANCES * tolerance ? -1 : IN_LINE;
  let best = length;
  let from = at;
  for (let row = Math.max(0, y - LOOK_PX); row <= Math.min(height - 1, y + LOOK_PX); row++)
    for (let column = Math.max(0, x - LOOK_PX); column <= Math.min(width - 1, x + LOOK_PX); column++) {
      const other = row * width + column;
      if (removed[other] === 1 || data[4 * other + 3]! < 128) continue;
      const r = data[4 * other]! - ground[0];
      const g = data[4 * other + 1]! - ground[1];
      const b = data[4 * other + 2]! - ground[2];
      const far = Math.sqrt(r * r + g * g + b * b);
      if (far <= best || red * r + green * g + blue * b < inLine * far * length) continue;
      best = far;
      from = 4 * other;
    }
  let share = length / best;
  // Nothing much stronger near: ink of its own, unless it is the very edge.
  if (share > NEARLY_ALL || (share >= MOSTLY && !touches(removed, width, height, x, y, 1))) return;
  if (share < LEAST_SHARE) share = 0;
  if (from !== at) {
    into[at] = data[from]!;
    into[at + 1] = data[from + 1]!;
    into[at + 2] = data[from + 2]!;
  }
  into[at + 3] = Math.round(share * data[at + 3]!);
  if (into[at + 3] === 0) into.fill(0, at, at + 4);
}
