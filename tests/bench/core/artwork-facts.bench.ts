import sharp from 'sharp';
import {
  buildPyramid,
  coverageOn,
  findFindings,
  measureArtwork,
  type Pyramid,
  previewOf,
  type Raster,
} from '../../../src/artwork/index.ts';
import type { ArtworkFacts } from '../../../src/contract/facts.ts';
import { type Benchmark, timed } from '../harness.ts';

/** 24.3 million pixels. */
const FULL = { width: 4500, height: 5400 };
/** Constructors whose allocations are counted. */
const COUNTED = [
  'ArrayBuffer',
  'Uint8Array',
  'Uint8ClampedArray',
  'Int8Array',
  'Uint16Array',
  'Int16Array',
  'Uint32Array',
  'Int32Array',
  'Float32Array',
  'Float64Array',
] as const;

/** Like a photo with alpha: broad fields of color under grain, cut out with a soft border. `scale` 1 is 24 Mpx. */
function photoLike(scale: number): Raster {
  const side = Math.sqrt(scale);
  const width = Math.max(1, Math.round(FULL.width * side));
  const height = Math.max(1, Math.round(FULL.height * side));
  const data = new Uint8Array(4 * width * height);
  let seed = 12_345;
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) | 0;
      const grain = (seed >>> 24) / 16 - 8;
      const u = x / width;
      const v = y / height;
      const away = Math.hypot(u - 0.5, v - 0.5);
      data[at] = held(128 + 90 * Math.sin(7 * u + 3 * v) + 30 * Math.sin(40 * u * v) + grain);
      data[at + 1] = held(120 + 80 * Math.cos(5 * v - 2 * u) + 25 * Math.sin(60 * v + 10 * u) + grain);
      data[at + 2] = held(110 + 100 * Math.sin(4 * u * v + 1) + grain);
      data[at + 3] = away < 0.42 ? 255 : away > 0.48 ? 0 : Math.round((255 * (0.48 - away)) / 0.06);
    }
  return { width, height, data };
}

/** A logo on a white background: separating the background takes a plane of its own. */
function logoOnWhite(): Raster {
  const raster = logoLike();
  const words = new Uint32Array(raster.data.buffer);
  for (let at = 0; at < words.length; at++) if (words[at] === 0) words[at] = 0xffffffff;
  return raster;
}

/** Like a logo: flat shapes and hairlines on a transparent background. */
function logoLike(): Raster {
  const { width, height } = FULL;
  const data = new Uint8Array(4 * width * height);
  const words = new Uint32Array(data.buffer);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) {
      const away = Math.hypot(x - width / 2, y - height / 2);
      const inked =
        (away > 1800 && away < 2000) || away < 1200 || ((x + 200) % 400 < 12 && y > 1000 && y < 4000);
      if (inked) words[at] = away < 1200 ? 0xff2e10c8 : 0xff492a1b;
    }
  return { width, height, data };
}

function held(value: number): number {
  return Math.min(255, Math.max(0, value));
}

async function pngOf({ width, height, data }: Raster): Promise<Buffer> {
  return await sharp(data, { raw: { width, height, channels: 4 } })
    .png({ compressionLevel: 6 })
    .toBuffer();
}

/** Processor time of all threads, ms: the same on a busy machine. */
async function cpuTimed(work: () => unknown): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function factsBenchmark(
  name: string,
  unit: string,
  picture: (scale: number) => Raster,
  measure: (work: () => unknown) => Promise<number>,
): Benchmark {
  let raster: Raster;
  let png: Buffer;
  return {
    name,
    unit,
    goal: { ratioAtMost: 1.5, growthAtMost: 1.1 },
    rounds: 5,
    warmUps: 1,
    grow: [0.01, 0.1, 1],
    async setUp(scale) {
      raster = picture(scale);
      png = await pngOf(raster);
    },
    subject: () => measure(() => measureArtwork(raster)),
    baseline: () => measure(() => sharp(png).raw().toBuffer()),
  };
}

/** Bytes of all buffers and typed arrays made while `work` runs, including those freed meanwhile: an upper bound. */
function allocatedBy(work: () => unknown): number {
  let bytes = 0;
  const originals = COUNTED.map((name) => [name, globalThis[name]] as const);
  for (const [name, original] of originals) {
    const counting = new Proxy(original, {
      construct(target, given: unknown[], newTarget) {
        const made = Reflect.construct(target, given, newTarget) as ArrayBuffer | ArrayBufferView;
        // A view of an existing buffer allocates nothing.
        if (!(given[0] instanceof ArrayBuffer)) bytes += made.byteLength;
        return made;
      },
    });
    Object.defineProperty(globalThis, name, { value: counting, configurable: true, writable: true });
  }
  try {
    work();
  } finally {
    for (const [name, original] of originals)
      Object.defineProperty(globalThis, name, { value: original, configurable: true, writable: true });
  }
  return bytes;
}

function memoryBenchmark(name: string, picture: () => Raster, most: number): Benchmark {
  let raster: Raster;
  return {
    name,
    unit: 'bytes a pixel beyond the raster',
    goal: { valueAtMost: most },
    rounds: 1,
    warmUps: 0,
    setUp() {
      raster = picture();
    },
    subject: () => allocatedBy(() => measureArtwork(raster)) / (raster.width * raster.height),
    // The raster itself.
    baseline: () => 4,
  };
}

let photo: Raster;
let pyramid: Pyramid;
let facts: ArtworkFacts;

export const benchmarks: readonly Benchmark[] = [
  factsBenchmark('artwork-facts', 'ms', photoLike, timed),
  factsBenchmark('artwork-facts-processor', 'ms of processor', photoLike, cpuTimed),
  memoryBenchmark('artwork-facts-memory', () => photoLike(1), 3),
  memoryBenchmark('artwork-facts-logo-memory', logoLike, 3),
  // Separating the background takes a plane of one byte per pixel.
  memoryBenchmark('artwork-facts-white-ground-memory', logoOnWhite, 3.5),
  {
    name: 'artwork-preview',
    unit: 'ms',
    goal: { valueAtMost: 50 },
    setUp() {
      photo = photoLike(1);
      pyramid = buildPyramid(photo);
    },
    subject: () => timed(() => previewOf(pyramid, 1600)),
    // The time sharp takes to shrink the same pixels.
    baseline: () =>
      timed(() =>
        sharp(photo.data, { raw: { width: photo.width, height: photo.height, channels: 4 } })
          .resize({ width: 1600, height: 1600, fit: 'inside' })
          .raw()
          .toBuffer(),
      ),
  },
  {
    name: 'artwork-coverage',
    unit: 'ms',
    goal: { valueAtMost: 0.1 },
    setUp() {
      facts = measureArtwork(photoLike(0.05));
    },
    // A hundred cloth colors, so that the time is long enough to measure.
    subject: async () =>
      (await timed(() => {
        for (let cloth = 0; cloth < 100; cloth++) coverageOn(facts, clothOf(cloth));
      })) / 100,
    // One pass over the same groups.
    baseline: async () =>
      (await timed(() => {
        let sum = 0;
        for (let cloth = 0; cloth < 100; cloth++) for (const group of facts.colors) sum += group.alphaSum;
        if (!(sum > 0)) throw new Error('no ink was read');
      })) / 100,
  },
  {
    name: 'artwork-findings',
    unit: 'ms',
    goal: { valueAtMost: 1 },
    setUp() {
      facts = measureArtwork(photoLike(0.05));
    },
    subject: async () =>
      (await timed(() => {
        for (let cloth = 0; cloth < 100; cloth++)
          findFindings({
            facts,
            clothHex: clothOf(cloth),
            placedWidthMm: 100 + cloth,
            methods: [
              {
                id: 'one',
                thinnestLineMm: 0.35,
                thinnestGapMm: 0.4,
                leastDpi: 100,
                goodDpi: 200,
                softAlpha: 'lost',
                largestSolidMm: 60,
              },
            ],
          });
      })) / 100,
    baseline: async () => (await timed(() => JSON.parse(JSON.stringify(facts)))) / 1,
  },
];

function clothOf(index: number): string {
  return `#${((index * 167_773) & 0xffffff).toString(16).padStart(6, '0')}`;
}
