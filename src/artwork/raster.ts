/**
 * A picture in memory: RGBA, 8 bits per channel, sRGB, straight (not premultiplied) alpha, row-major from the top left,
 * `data.length === 4 * width * height`.
 */
export type Raster = {
  /** whole pixels, 1 or more. */
  readonly width: number;
  /** whole pixels, 1 or more. */
  readonly height: number;
  readonly data: Uint8Array | Uint8ClampedArray;
};

/** What is wrong with a raster; undefined if it is valid. */
export function rasterFault(raster: Raster): string | undefined {
  const { width, height, data } = raster;
  if (!Number.isInteger(width) || width < 1)
    return `raster.width is ${width}; it must be a whole number from 1 up`;
  if (!Number.isInteger(height) || height < 1)
    return `raster.height is ${height}; it must be a whole number from 1 up`;
  if (data.length !== 4 * width * height)
    return `raster.data holds ${data.length} bytes; ${width} x ${height} pixels need ${4 * width * height}`;
  return undefined;
}

/** @throws RangeError naming the value and what is allowed, when the raster is invalid. */
export function assertRaster(raster: Raster): void {
  const fault = rasterFault(raster);
  if (fault !== undefined) throw new RangeError(fault);
}

/** A raster of clear pixels. */
export function blankRaster(
  width: number,
  height: number,
): { width: number; height: number; data: Uint8Array } {
  return { width, height, data: new Uint8Array(4 * width * height) };
}

/** A copy of a raster that shares nothing with it. */
export function copyRaster({ width, height, data }: Raster): Raster {
  return { width, height, data: Uint8Array.from(data) };
}

/**
 * The pixels as 32-bit words, `0xAABBGGRR` on little-endian machines, which are assumed. A view of the data if it is
 * aligned to 4 bytes, otherwise a copy.
 */
export function pixelWords(raster: Raster): Uint32Array {
  const { data } = raster;
  if (data.byteOffset % 4 === 0) return new Uint32Array(data.buffer, data.byteOffset, data.length >>> 2);
  return new Uint32Array(data.slice().buffer, 0, data.length >>> 2);
}
