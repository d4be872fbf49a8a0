import type { Raster } from '../../../src/artwork/index.ts';

/** Where a picture lies on a canvas, in pixels of the canvas. */
export type Position = {
  readonly centerXPx: number;
  readonly centerYPx: number;
  /** size before turning. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** degrees clockwise about the center. */
  readonly angleDeg: number;
};

type OpaqueCanvas = { readonly width: number; readonly height: number; readonly data: Uint8Array };

/** Samples taken of each canvas pixel, a side. */
const SAMPLES = 3;

/**
 * Lays a straight-alpha picture over an opaque canvas, scaled and turned. Every canvas pixel is the mean of 3 x 3 points,
 * each interpolated between four pixels of the picture with alpha multiplied in; plain arithmetic, so that the same
 * input gives the same bytes everywhere.
 */
export function compositeOver(canvas: OpaqueCanvas, picture: Raster, lie: Position): void {
  const turn = (lie.angleDeg * Math.PI) / 180;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const reachX = (Math.abs(cos) * lie.widthPx + Math.abs(sin) * lie.heightPx) / 2 + 1;
  const reachY = (Math.abs(sin) * lie.widthPx + Math.abs(cos) * lie.heightPx) / 2 + 1;
  const left = Math.max(0, Math.floor(lie.centerXPx - reachX));
  const right = Math.min(canvas.width, Math.ceil(lie.centerXPx + reachX));
  const top = Math.max(0, Math.floor(lie.centerYPx - reachY));
  const bottom = Math.min(canvas.height, Math.ceil(lie.centerYPx + reachY));
  const scaleX = picture.width / lie.widthPx;
  const scaleY = picture.height / lie.heightPx;
  const sum = new Float64Array(4);

  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      sum.fill(0);
      for (let sampleY = 0; sampleY < SAMPLES; sampleY++) {
        const dy = y + (sampleY + 0.5) / SAMPLES - lie.centerYPx;
        for (let sampleX = 0; sampleX < SAMPLES; sampleX++) {
          const dx = x + (sampleX + 0.5) / SAMPLES - lie.centerXPx;
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
 * Adds the picture at a point (pixel centers at whole numbers): color times alpha, and alpha. Outside its edges it is
 * clear; up to them the outermost pixels go on, so that a picture made larger keeps sharp edges.
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
