import type { Raster } from '../../../src/artwork/index.ts';

/** Position and size of a picture on a canvas, in canvas pixels. */
export type Position = {
  readonly centerXPx: number;
  readonly centerYPx: number;
  /** size before rotation. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** clockwise about the center. */
  readonly angleDeg: number;
};

type OpaqueCanvas = { readonly width: number; readonly height: number; readonly data: Uint8Array };

/** Samples per side of each canvas pixel. */
const SAMPLES = 3;

/**
 * Composites a straight-alpha picture over an opaque canvas, scaled and rotated. Every canvas pixel is the mean of 3 x 3
 * samples, each a bilinear interpolation with premultiplied alpha. Plain arithmetic, so that the same input gives the same
 * bytes on every machine.
 */
export function compositeOver(canvas: OpaqueCanvas, picture: Raster, position: Position): void {
  const turn = (position.angleDeg * Math.PI) / 180;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const reachX = (Math.abs(cos) * position.widthPx + Math.abs(sin) * position.heightPx) / 2 + 1;
  const reachY = (Math.abs(sin) * position.widthPx + Math.abs(cos) * position.heightPx) / 2 + 1;
  const left = Math.max(0, Math.floor(position.centerXPx - reachX));
  const right = Math.min(canvas.width, Math.ceil(position.centerXPx + reachX));
  const top = Math.max(0, Math.floor(position.centerYPx - reachY));
  const bottom = Math.min(canvas.height, Math.ceil(position.centerYPx + reachY));
  const scaleX = picture.width / position.widthPx;
  const scaleY = picture.height / position.heightPx;
  const sum = new Float64Array(4);

  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      sum.fill(0);
      for (let sampleY = 0; sampleY < SAMPLES; sampleY++) {
        const dy = y + (sampleY + 0.5) / SAMPLES - position.centerYPx;
        for (let sampleX = 0; sampleX < SAMPLES; sampleX++) {
          const dx = x + (sampleX + 0.5) / SAMPLES - position.centerXPx;
          addSample(
            picture,
            (cos * dx + sin * dy) * scaleX + picture.width / 2 - 0.5,
            (cos * dy - sin * dx) * scaleY + picture.height / 2 - 0.5,
            sum,
          );
        }
      }
      const alpha = sum[3]! / (255 * SAMPLES * SAMPLES);
      if (alpha === 0) continue;
      const at = 4 * (y * canvas.width + x);
      for (let channel = 0; channel < 3; channel++) {
        const ink = sum[channel]! / (255 * SAMPLES * SAMPLES);
        canvas.data[at + channel] = Math.round(ink + canvas.data[at + channel]! * (1 - alpha));
      }
    }
  }
}

/**
 * Adds the premultiplied sample at a point (pixel centers at integers) to `sum`. Outside its edges the picture is clear;
 * within half a pixel of them the outermost pixels are repeated, so that an enlarged picture keeps sharp edges.
 */
function addSample({ width, height, data }: Raster, x: number, y: number, sum: Float64Array): void {
  if (!(x >= -0.5 && y >= -0.5 && x < width - 0.5 && y < height - 0.5)) return;
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  for (let row = y0; row <= y0 + 1; row++) {
    const shareY = row === y0 ? 1 - (y - y0) : y - y0;
    const start = width * Math.min(height - 1, Math.max(0, row));
    for (let column = x0; column <= x0 + 1; column++) {
      const at = 4 * (start + Math.min(width - 1, Math.max(0, column)));
      const weight = shareY * (column === x0 ? 1 - (x - x0) : x - x0) * data[at + 3]!;
      sum[0]! += weight * data[at]!;
      sum[1]! += weight * data[at + 1]!;
      sum[2]! += weight * data[at + 2]!;
      sum[3]! += weight;
    }
  }
}
