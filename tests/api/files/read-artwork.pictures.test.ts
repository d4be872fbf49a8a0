import { converter } from 'culori';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { type ReadFile, readArtwork } from '../../../api/files/read-artwork.ts';
import { isRefusal } from '../../../api/files/refusal.ts';
import { writeGif } from './fixtures/gif.ts';
import { hasSegment, withoutSegment } from './fixtures/jpeg.ts';
import {
  completeBomb,
  headerOnlyPng,
  iccChunk,
  paint,
  pngChunk,
  writePng,
  writeRgba,
  writeRgba16,
} from './fixtures/png.ts';
import { writeTiff } from './fixtures/tiff.ts';

async function read(bytes: Uint8Array, name?: string): Promise<ReadFile> {
  const answer = await readArtwork(bytes, { name });
  if (isRefusal(answer)) throw new Error(`refused: ${JSON.stringify(answer)}`);
  return answer;
}

function pixel({ raster }: ReadFile, x: number, y: number): number[] {
  return [...raster.data.subarray(4 * (y * raster.width + x), 4 * (y * raster.width + x) + 4)];
}

function expectNear(found: readonly number[], wanted: readonly number[], within: number): void {
  expect(found).toHaveLength(wanted.length);
  found.forEach((value, index) => {
    expect(Math.abs(value - wanted[index]!), `${found} for ${wanted}`).toBeLessThanOrEqual(within);
  });
}

const APP14 = 0xee;

describe('orientation', () => {
  /** Corners of an upright 60 x 40 picture: red, green / blue, yellow. */
  const upright = paint(60, 40, (x, y) => {
    if (x < 20 && y < 13) return [200, 16, 46, 255];
    if (x >= 40 && y < 13) return [0, 122, 61, 255];
    if (x < 20 && y >= 27) return [0, 87, 184, 255];
    if (x >= 40 && y >= 27) return [255, 205, 0, 255];
    return [255, 255, 255, 255];
  });
  /**
   * The stored picture for each tag (EXIF 2.32, 4.6.4 A, Orientation): 5 is the upright one mirrored about the diagonal
   * from the top left, 7 about the other. Each step is a pipeline of its own: the library orders steps in its own way.
   */
  const stored = {
    1: (image: Sharp) => image,
    2: (image: Sharp) => image.flop(),
    3: (image: Sharp) => image.rotate(180),
    4: (image: Sharp) => image.flip(),
    5: (image: Sharp) => image.rotate(90),
    6: (image: Sharp) => image.rotate(270),
    7: (image: Sharp) => image.rotate(270),
    8: (image: Sharp) => image.rotate(90),
  } as const;

  async function tagged(orientation: keyof typeof stored): Promise<Buffer> {
    const image = sharp(upright, { raw: { width: 60, height: 40, channels: 4 } });
    const { data, info } = await stored[orientation](image).raw().toBuffer({ resolveWithObject: true });
    const turned = sharp(data, { raw: { width: info.width, height: info.height, channels: 4 } });
    return (orientation === 5 || orientation === 7 ? turned.flop() : turned)
      .flatten()
      .jpeg({ quality: 95, chromaSubsampling: '4:4:4' })
      .withMetadata({ orientation })
      .toBuffer();
  }

  it.each([1, 2, 3, 4, 5, 6, 7, 8] as const)('%i is applied and reported', async (orientation) => {
    const file = await read(await tagged(orientation));
    expect([file.raster.width, file.raster.height]).toEqual([60, 40]);
    expectNear(pixel(file, 5, 5), [200, 16, 46, 255], 12);
    expectNear(pixel(file, 55, 5), [0, 122, 61, 255], 12);
    expectNear(pixel(file, 5, 35), [0, 87, 184, 255], 12);
    expectNear(pixel(file, 55, 35), [255, 205, 0, 255], 12);
    expect(file.source.notes).toEqual(orientation === 1 ? [] : [{ code: 'turned-by-metadata', orientation }]);
  });
});

describe('color', () => {
  let p3Profile: Buffer;
  beforeAll(async () => {
    const p3 = await sharp({ create: { width: 1, height: 1, channels: 3, background: '#808080' } })
      .withIccProfile('p3')
      .png()
      .toBuffer();
    p3Profile = (await sharp(p3).metadata()).icc!;
  });

  it.each([
    [100, 150, 200],
    [128, 128, 128],
    [200, 180, 90],
    [60, 120, 80],
  ])('of Display P3 %i,%i,%i is converted as culori does', async (r, g, b) => {
    const rgb = converter('rgb')({ mode: 'p3', r: r / 255, g: g / 255, b: b / 255 });
    const wanted = [rgb.r, rgb.g, rgb.b].map((value) => Math.min(255, Math.max(0, Math.round(255 * value))));
    const file = await read(
      writePng({
        width: 4,
        height: 4,
        bitDepth: 8,
        colorType: 6,
        rows: paint(4, 4, () => [r, g, b, 255]),
        before: [['iCCP', iccChunk(p3Profile)]],
      }),
    );
    expectNear(pixel(file, 2, 2), [...wanted, 255], 2);
    expect(file.source.notes).toEqual([{ code: 'wide-gamut-converted', profile: expect.any(String) }]);
  });

  it('with an sRGB profile is unchanged and not reported', async () => {
    const srgb = await sharp({ create: { width: 4, height: 4, channels: 3, background: '#c8102e' } })
      .withIccProfile('srgb')
      .png()
      .toBuffer();
    expect((await sharp(srgb).metadata()).icc).toBeDefined();
    const file = await read(srgb);
    expectNear(pixel(file, 1, 1), [200, 16, 46, 255], 1);
    expect(file.source.notes).toEqual([]);
  });

  describe('in CMYK', () => {
    /** C, M, Y, K of each patch, 0 none to 255 full, and the sRGB it must be near: paper is white, key is black. */
    const patches = [
      [
        [0, 0, 0, 0],
        [255, 255, 255],
      ],
      [
        [255, 0, 0, 0],
        [0, 158, 224],
      ],
      [
        [0, 255, 0, 0],
        [226, 0, 122],
      ],
      [
        [0, 0, 255, 0],
        [255, 236, 0],
      ],
      [
        [0, 0, 0, 255],
        [35, 31, 32],
      ],
      [
        [0, 255, 255, 0],
        [227, 6, 19],
      ],
    ] as const;
    /** Process inks differ from press to press: the sRGB values are a common coated-paper set, from memory. */
    const WITHIN = 60;

    const cmyk = () => {
      const data = Buffer.alloc(96 * 16 * 4);
      for (let y = 0; y < 16; y++)
        for (let x = 0; x < 96; x++) data.set(patches[Math.floor(x / 16)]![0], 4 * (96 * y + x));
      return sharp(
        writeTiff([{ width: 96, height: 16, channels: 4, bits: 8, samples: data, photometric: 5 }]),
      )
        .pipelineColourspace('cmyk')
        .toColourspace('cmyk')
        .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
        .toBuffer();
    };

    function expectPatches(file: ReadFile): void {
      patches.forEach(([, wanted], index) => {
        expectNear(pixel(file, 16 * index + 8, 2), [...wanted, 255], WITHIN);
      });
      expect(file.source.notes).toContainEqual({ code: 'cmyk-converted', profile: null });
    }

    it('with the Adobe marker, whose values are inverted', async () => {
      const jpeg = await cmyk();
      expect(hasSegment(jpeg, APP14)).toBe(true);
      expectPatches(await read(jpeg));
    });

    // A file loses its marker when metadata is stripped, and its values stay upside down; browsers and the common
    // decoders all take them so (common practice, no source).
    it('with the marker stripped', async () => {
      const jpeg = withoutSegment(await cmyk(), APP14);
      expect(hasSegment(jpeg, APP14)).toBe(false);
      expectPatches(await read(jpeg));
    });

    it('in a TIFF', async () => {
      const samples = Buffer.alloc(96 * 4 * 4);
      for (let at = 0; at < 96 * 4; at++) samples.set(patches[Math.floor((at % 96) / 16)]![0], 4 * at);
      expectPatches(
        await read(writeTiff([{ width: 96, height: 4, channels: 4, bits: 8, samples, photometric: 5 }])),
      );
    });
  });
});

describe('depth and alpha', () => {
  it('of 16 bits is within 1 of value/257 in every channel, including alpha', async () => {
    const values: number[] = [];
    for (let at = 0; at < 256; at++)
      values.push(at * 257, Math.min(65535, at * 257 + 200), 65535 - at * 130, at * 251 + 128);
    const file = await read(writeRgba16(16, 16, values));
    values.forEach((value, index) => {
      expect(Math.abs(file.raster.data[index]! - value / 257), `value ${value}`).toBeLessThanOrEqual(1);
    });
    expect(file.source.notes).toEqual([{ code: 'sixteen-bit-reduced' }]);
  });

  it('of 16 bits in a TIFF is, too', async () => {
    const samples = Buffer.alloc(8 * 8 * 8);
    const values = Array.from({ length: 8 * 8 * 4 }, (_, at) => (at * 1021) % 65536);
    values.forEach((value, index) => {
      samples.writeUInt16BE(value, 2 * index);
    });
    const file = await read(
      writeTiff([{ width: 8, height: 8, channels: 4, bits: 16, samples, photometric: 2, extra: 2 }]),
    );
    values.forEach((value, index) => {
      expect(Math.abs(file.raster.data[index]! - value / 257), `value ${value}`).toBeLessThanOrEqual(1);
    });
  });

  it('of a palette comes from its tRNS table; entries beyond the table are opaque', async () => {
    // 2 bits a pixel: 0 clear, 1 half, 2 and 3 opaque.
    const rows = Buffer.from([0b00011011, 0b00011011]);
    const file = await read(
      writePng({
        width: 4,
        height: 2,
        bitDepth: 2,
        colorType: 3,
        rows,
        before: [
          ['PLTE', Buffer.from([1, 2, 3, 200, 16, 46, 0, 122, 61, 255, 205, 0])],
          ['tRNS', Buffer.from([0, 128])],
        ],
      }),
    );
    expect([0, 1, 2, 3].map((x) => pixel(file, x, 1))).toEqual([
      [1, 2, 3, 0],
      [200, 16, 46, 128],
      [0, 122, 61, 255],
      [255, 205, 0, 255],
    ]);
  });

  it('of a gray picture with one transparent value, and with an alpha channel', async () => {
    const keyed = await read(
      writePng({
        width: 2,
        height: 1,
        bitDepth: 8,
        colorType: 0,
        rows: Buffer.from([9, 200]),
        before: [['tRNS', Buffer.from([0, 9])]],
      }),
    );
    expect([pixel(keyed, 0, 0)[3], pixel(keyed, 1, 0)]).toEqual([0, [200, 200, 200, 255]]);
    const soft = await read(
      writePng({ width: 2, height: 1, bitDepth: 8, colorType: 4, rows: Buffer.from([40, 7, 90, 250]) }),
    );
    expect([pixel(soft, 0, 0), pixel(soft, 1, 0)]).toEqual([
      [40, 40, 40, 7],
      [90, 90, 90, 250],
    ]);
  });

  it('premultiplied in a TIFF is divided out again', async () => {
    // (200, 100, 50) at alpha 128 stored as color times alpha: 100, 50, 25.
    const samples = Buffer.concat(Array.from({ length: 16 }, () => Buffer.from([100, 50, 25, 128])));
    const file = await read(
      writeTiff([{ width: 4, height: 4, channels: 4, bits: 8, samples, photometric: 2, extra: 1 }]),
    );
    expectNear(pixel(file, 1, 1), [200, 100, 50, 128], 2);
  });

  it('survives lossless WebP and AVIF', async () => {
    const data = paint(32, 24, (x, y) => [10 * (x % 20), 9 * y, 130, x < 8 ? 0 : x < 16 ? 90 : 255]);
    const image = () => sharp(data, { raw: { width: 32, height: 24, channels: 4 } });
    for (const bytes of [
      await image().webp({ lossless: true, exact: true }).toBuffer(),
      await image().avif({ lossless: true, chromaSubsampling: '4:4:4' }).toBuffer(),
    ]) {
      const file = await read(bytes);
      expect([file.raster.width, file.raster.height]).toEqual([32, 24]);
      expect([pixel(file, 2, 5)[3], pixel(file, 10, 5)[3], pixel(file, 20, 5)[3]]).toEqual([0, 90, 255]);
      expectNear(pixel(file, 20, 5), [0, 45, 130, 255], 3);
    }
  });
});

describe('a file with several pictures', () => {
  it('gives the first frame of a GIF, at the size of one frame', async () => {
    const gif = writeGif(
      80,
      50,
      [
        [0, 0, 0],
        [200, 16, 46],
        [0, 122, 61],
        [0, 87, 184],
      ],
      [1, 2, 3].map((index) => ({ left: 10 * index, top: 10, width: 40, height: 30, index })),
    );
    const file = await read(gif);
    expect([file.raster.width, file.raster.height]).toEqual([80, 50]);
    expect(file.source.notes).toEqual([{ code: 'first-frame-only', frames: 3 }]);
    const colors = new Set<string>();
    for (let at = 0; at < file.raster.data.length; at += 4)
      if (file.raster.data[at + 3]! > 0) colors.add(file.raster.data.subarray(at, at + 3).join());
    expect([...colors]).toEqual(['200,16,46']);
  });

  it('gives the first page of a TIFF and reports the count', async () => {
    const page = (value: number) => ({
      width: 4,
      height: 4,
      channels: 3 as const,
      bits: 8 as const,
      samples: Buffer.alloc(48, value),
      photometric: 2 as const,
    });
    const file = await read(writeTiff([page(40), page(200)]));
    expect([file.raster.width, file.raster.height]).toEqual([4, 4]);
    expect(pixel(file, 3, 3)).toEqual([40, 40, 40, 255]);
    expect(file.source.notes).toEqual([{ code: 'first-page-only', pages: 2 }]);
  });

  it('gives the first frame of an animated WebP', async () => {
    const frames = paint(10, 20, (_, y) => (y < 10 ? [200, 16, 46, 255] : [0, 122, 61, 255]));
    const webp = await sharp(frames, { raw: { width: 10, height: 20, channels: 4, pageHeight: 10 } })
      .webp({ lossless: true, loop: 0, delay: [100, 100] })
      .toBuffer();
    const file = await read(webp);
    expect([file.raster.width, file.raster.height]).toEqual([10, 10]);
    expect(pixel(file, 5, 9)).toEqual([200, 16, 46, 255]);
    expect(file.source.notes).toEqual([{ code: 'first-frame-only', frames: 2 }]);
  });

  it('gives the still picture of an animated PNG', async () => {
    const control = Buffer.alloc(8);
    control.writeUInt32BE(3);
    const png = writePng({
      width: 4,
      height: 4,
      bitDepth: 8,
      colorType: 6,
      rows: paint(4, 4, () => [1, 2, 3, 255]),
      before: [['acTL', control]],
    });
    expect((await read(png)).source.notes).toEqual([{ code: 'first-frame-only', frames: 3 }]);
  });
});

describe('a JPEG', () => {
  it('gives the same pixels whether progressive or not', async () => {
    const data = paint(320, 240, (x, y) =>
      (x - 160) ** 2 + (y - 120) ** 2 < 80 ** 2 ? [27, 42, 73, 255] : [235, 230, 220, 255],
    );
    const encode = (progressive: boolean) =>
      sharp(data, { raw: { width: 320, height: 240, channels: 4 } })
        .flatten()
        .jpeg({ quality: 88, progressive })
        .toBuffer();
    const [baseline, progressive] = await Promise.all([read(await encode(false)), read(await encode(true))]);
    let most = 0;
    baseline.raster.data.forEach((value, index) => {
      most = Math.max(most, Math.abs(value - progressive.raster.data[index]!));
    });
    expect(most).toBeLessThanOrEqual(2);
    expect(baseline.source.notes).toEqual(progressive.source.notes);
  });

  it('named .png is read as a JPEG, and reported', async () => {
    const jpeg = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#fff' } })
      .jpeg()
      .toBuffer();
    const { source } = await read(jpeg, 'logo.png');
    expect(source.kind).toBe('jpeg');
    expect(source.notes).toEqual([{ code: 'name-does-not-match', named: 'png', found: 'jpeg' }]);
  });
});

describe('an unreadable file', () => {
  const noisy = () => {
    let seed = 7;
    return paint(200, 200, () => {
      seed = (seed * 1103515245 + 12345) & 0x7fffffff;
      return [seed & 255, (seed >> 8) & 255, (seed >> 16) & 255, 255];
    });
  };
  const image = () => sharp(noisy(), { raw: { width: 200, height: 200, channels: 4 } });
  const makers = {
    PNG: async () => writeRgba(200, 200, noisy()),
    JPEG: () => image().flatten().jpeg().toBuffer(),
    'progressive JPEG': () => image().flatten().jpeg({ progressive: true }).toBuffer(),
    WebP: () => image().webp({ lossless: true }).toBuffer(),
    AVIF: () => image().avif().toBuffer(),
    TIFF: async () =>
      writeTiff([
        { width: 200, height: 200, channels: 4, bits: 8, samples: noisy(), photometric: 2, extra: 2 },
      ]),
    GIF: () => image().gif().toBuffer(),
  } as const;

  it.each(
    Object.entries(makers).flatMap(([kind, make]) =>
      [0.3, 0.7, 0.97].map((share) => [kind, share, make] as const),
    ),
  )('is a %s cut off at %f of its length', async (_, share, make) => {
    const whole = await make();
    expect(isRefusal(await readArtwork(whole))).toBe(false);
    const answer = await readArtwork(whole.subarray(0, Math.floor(whole.length * share)));
    expect(isRefusal(answer) && answer.refused).toMatch(/^(incomplete|damaged)-file$/);
  });

  it('is a PNG without its end chunk, though every pixel is there', async () => {
    const whole = writeRgba(
      8,
      8,
      paint(8, 8, () => [1, 2, 3, 255]),
    );
    expect(await readArtwork(whole.subarray(0, whole.length - 12))).toEqual({
      refused: 'incomplete-file',
      params: { kind: 'PNG' },
    });
  });

  it('is a PNG with wrong checksums', async () => {
    const whole = Buffer.from(
      writeRgba(
        64,
        64,
        paint(64, 64, (x, y) => [x, y, x ^ y, 255]),
      ),
    );
    whole[whole.indexOf('IDAT') + 40]! ^= 0xff;
    expect(await readArtwork(whole)).toMatchObject({ params: { kind: 'PNG' }, refused: expect.any(String) });
  });

  it('is a picture over the pixel limit, by its header; the answer has the limit', async () => {
    const refusal = {
      refused: 'too-many-pixels',
      params: { widthPx: 30_000, heightPx: 30_000, limitPx: 40_000_000, limitSidePx: 20_000 },
    };
    expect(await readArtwork(headerOnlyPng(30_000, 30_000))).toEqual(refusal);
    expect(await readArtwork(completeBomb(30_000, 30_000))).toEqual(refusal);
  });

  it('is a picture with a side over the limit, but not a wide banner', async () => {
    expect(await readArtwork(headerOnlyPng(20_001, 1))).toMatchObject({ refused: 'too-many-pixels' });
    const banner = await read(
      writeRgba(
        12_000,
        40,
        paint(12_000, 40, () => [0, 87, 184, 255]),
      ),
    );
    expect([banner.raster.width, banner.raster.height]).toEqual([12_000, 40]);
  });

  it('is one with more bytes than allowed, checked first', async () => {
    expect(await readArtwork(Buffer.from('<html>'.repeat(10)), { limits: { bytes: 59 } })).toEqual({
      refused: 'too-large',
      params: { bytes: 60, limitBytes: 59 },
    });
  });

  it('is a JPEG with very many scans of very many pixels', async () => {
    const jpeg = await sharp({ create: { width: 1200, height: 1000, channels: 3, background: '#345' } })
      .jpeg({ progressive: true })
      .toBuffer();
    expect(isRefusal(await readArtwork(jpeg))).toBe(false);
    // The last scan of the file, given again and again.
    const scan = jpeg.subarray(jpeg.lastIndexOf(Buffer.from([0xff, 0xda])), jpeg.length - 2);
    const bomb = Buffer.concat([jpeg.subarray(0, -2), ...Array(5000).fill(scan), jpeg.subarray(-2)]);
    expect(await readArtwork(bomb)).toEqual({
      refused: 'too-complex',
      params: { what: 'scans', found: 101, limit: 100 },
    });
  });

  it("is refused without the decoder's message", async () => {
    const answer = await readArtwork(
      Buffer.concat([pngChunk('IHDR', Buffer.from('/etc/secret')), Buffer.alloc(9)]),
    );
    expect(JSON.stringify(answer)).not.toMatch(/secret|vips|etc/);
  });
});
