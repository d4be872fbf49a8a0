/**
 * The threshold, 0 to 1, of an amplitude-modulated halftone screen at a pixel: a pixel is inked if the tint (0 to 1) is
 * above it. Over whole cells the share of inked pixels equals the tint.
 */
export type Screen = (x: number, y: number) => number;

const SAMPLES = 128;
const STEPS = 4096;

let cachedThresholds: Float32Array | undefined;

/**
 * A halftone screen of round dots that join at 50 % and leave round holes above it.
 *
 * @param cellPx distance from dot to dot, px, 2 or more.
 * @param angleDeg angle of the rows of dots, degrees.
 */
export function dotScreen(cellPx: number, angleDeg: number): Screen {
  cachedThresholds ??= thresholdTable();
  const table = cachedThresholds;
  const angle = (angleDeg * Math.PI) / 180;
  const across = ((2 * Math.PI) / cellPx) * Math.cos(angle);
  const down = ((2 * Math.PI) / cellPx) * Math.sin(angle);
  return (x, y) => {
    const spot = Math.cos(across * x + down * y) + Math.cos(across * y - down * x);
    return table[Math.min(STEPS - 1, Math.floor(((2 - spot) * STEPS) / 4))]!;
  };
}

/** For each value of the spot function, the share of the cell with a higher value (its rank), 0 to 1. */
function thresholdTable(): Float32Array {
  const counts = new Float64Array(STEPS);
  for (let row = 0; row < SAMPLES; row++)
    for (let column = 0; column < SAMPLES; column++) {
      const u = (Math.PI * (row + 0.5)) / SAMPLES;
      const v = (Math.PI * (column + 0.5)) / SAMPLES;
      const spot = Math.cos(u) + Math.cos(v);
      counts[Math.min(STEPS - 1, Math.floor(((2 - spot) * STEPS) / 4))]!++;
    }
  const table = new Float32Array(STEPS);
  let before = 0;
  for (let step = 0; step < STEPS; step++) {
    table[step] = (before + counts[step]! / 2) / (SAMPLES * SAMPLES);
    before += counts[step]!;
  }
  return table;
}
