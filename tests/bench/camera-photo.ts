import sharp from 'sharp';

/** A JPEG like a camera's: soft fields of color under grain. Each seed gives another picture. */
export async function cameraPhoto(width: number, height: number, seed: number): Promise<Buffer> {
  const data = new Uint8Array(3 * width * height);
  let state = seed;
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 3) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
      const grain = (state >>> 24) / 16;
      data[at] = 90 + 90 * Math.sin(x / 600 + y / 900) ** 2 + grain;
      data[at + 1] = 60 + (100 * y) / height + grain;
      data[at + 2] = 40 + (150 * x) / width + grain;
    }
  return sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 93 })
    .toBuffer();
}
