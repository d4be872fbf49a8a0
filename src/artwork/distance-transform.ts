/** Squared distance where there is no pixel to measure to. */
export const NO_DISTANCE = 0xffffffff;

/** Column distance where a column has no such pixel; it also limits the height. */
const NO_COLUMN = 65_535;

/**
 * Exact Euclidean distance transform, passed on row by row from the top: the squared distance from the center of each
 * pixel to the center of the nearest pixel where `mask` is 0 (0 for those pixels themselves), or `NO_DISTANCE` if there
 * is none. Linear time: first the distances along columns, then the lower envelope of their parabolas along each row.
 * Takes 2 bytes for each pixel and a few rows.
 *
 * @param mask one byte for each pixel, row-major, length `width * height`; height at most 65534.
 * @param onRow the array is reused for the next row.
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

/** The whole distance transform, row-major; see `eachDistanceRow`. Takes another 4 bytes for each pixel. */
export function squaredDistances(mask: Uint8Array, width: number, height: number): Uint32Array {
  const all = new Uint32Array(width * height);
  eachDistanceRow(mask, width, height, (y, squared) => all.set(squared, y * width));
  return all;
}

/**
 * A mask (1) of every pixel within `radius` px of a pixel where `mask` is 0, center to center.
 *
 * @param mask one byte for each pixel, row-major.
 */
export function withinDistance(mask: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  const near = new Uint8Array(width * height);
  const maxSquared = radius * radius;
  eachDistanceRow(mask, width, height, (y, squared) => {
    const row = y * width;
    for (let x = 0; x < width; x++) if (squared[x]! <= maxSquared) near[row + x] = 1;
  });
  return near;
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
