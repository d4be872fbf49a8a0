/** Squared distance standing for "there is none". */
export const NO_DISTANCE = 0xffffffff;

/** Column distance standing for "there is none"; longer columns are not read here. */
const NO_COLUMN = 65_535;

/**
 * Hands over, row by row from the top, the exact squared Euclidean distance, in whole pixels, from the center of each
 * pixel to the center of the nearest pixel where `mask` is 0 (0 for those themselves); `NO_DISTANCE` where there is
 * none. Time is linear in the pixels: distances along columns first, then the lower envelope of their parabolas along
 * each row. Takes 2 bytes a pixel and a few rows.
 *
 * @param mask one byte a pixel, row-major, length `width * height`; height at most 65534.
 * @param onRow the row's distances are only good until the next row.
 * @see P. Felzenszwalb, D. Huttenlocher, Distance Transforms of Sampled Functions, Theory of Computing 8, 415-428, 2012.
 */
export function eachDistanceRow(
  mask: Uint8Array,
  width: number,
  height: number,
  onRow: (y: number, squared: Uint32Array) => void,
): void {
  const columns = columnDistances(mask, width, height);
  const vertex = new Int32Array(width);
  const from = new Float64Array(width + 1);
  const squared = new Uint32Array(width);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    let last = -1;
    for (let x = 0; x < width; x++) {
      const column = columns[row + x]!;
      if (column === NO_COLUMN) continue;
      const own = column * column + x * x;
      let start = Number.NEGATIVE_INFINITY;
      while (last >= 0) {
        const other = vertex[last]!;
        const depth = columns[row + other]!;
        start = (own - depth * depth - other * other) / (2 * (x - other));
        if (start > from[last]!) break;
        last--;
      }
      last++;
      vertex[last] = x;
      from[last] = last === 0 ? Number.NEGATIVE_INFINITY : start;
    }
    if (last < 0) squared.fill(NO_DISTANCE);
    else
      for (let x = 0, at = 0; x < width; x++) {
        while (at < last && from[at + 1]! < x) at++;
        const nearest = vertex[at]!;
        const depth = columns[row + nearest]!;
        squared[x] = (x - nearest) * (x - nearest) + depth * depth;
      }
    onRow(y, squared);
  }
}

/** All of `eachDistanceRow` at once, row-major: 4 bytes a pixel more. */
export function squaredDistances(mask: Uint8Array, width: number, height: number): Uint32Array {
  const all = new Uint32Array(width * height);
  eachDistanceRow(mask, width, height, (y, squared) => all.set(squared, y * width));
  return all;
}

/**
 * Marks (1) every pixel within `radius` px of a pixel where `mask` is 0.
 *
 * @param mask one byte a pixel, row-major.
 */
export function withinDistance(mask: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  const reached = new Uint8Array(width * height);
  const most = radius * radius;
  eachDistanceRow(mask, width, height, (y, squared) => {
    const row = y * width;
    for (let x = 0; x < width; x++) if (squared[x]! <= most) reached[row + x] = 1;
  });
  return reached;
}

function columnDistances(mask: Uint8Array, width: number, height: number): Uint16Array {
  const columns = new Uint16Array(width * height);
  for (let x = 0; x < width; x++) columns[x] = mask[x] === 0 ? 0 : NO_COLUMN;
  for (let at = width; at < columns.length; at++) {
    const above = columns[at - width]!;
    columns[at] = mask[at] === 0 ? 0 : above === NO_COLUMN ? NO_COLUMN : above + 1;
  }
  for (let at = columns.length - width - 1; at >= 0; at--) {
    const below = columns[at + width]!;
    if (below !== NO_COLUMN && below + 1 < columns[at]!) columns[at] = below + 1;
  }
  return columns;
}
