import { once } from 'node:events';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Duplex } from 'node:stream';
import { setTimeout as pause } from 'node:timers/promises';
import fc from 'fast-check';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type FilePool, isRefusal, openFilePool, type ReadArtwork } from '../../../api/files/index.ts';
import { decodePng, PREVIEW_SIDE_PX } from '../../../api/files/png.ts';
import { onMessages, sendMessage } from '../../../api/files/pool/frames.ts';
import { applyRemedies, buildPyramid, previewOf, type Raster } from '../../../src/artwork/index.ts';
import { everyKindOfPicture } from './fixtures/every-kind.ts';
import { paint, writeRgba } from './fixtures/png.ts';
import { svg } from './fixtures/svg.ts';

let pool: FilePool;
const troubles: string[] = [];
beforeAll(async () => {
  pool = await openFilePool({ size: 2, queue: 2, onWarning: (what) => troubles.push(what) });
  await pool.ready();
});
afterAll(() => pool.close());

async function read(...given: Parameters<FilePool['read']>): Promise<ReadArtwork> {
  const answer = await pool.read(...given);
  if (isRefusal(answer)) throw new Error(`refused: ${JSON.stringify(answer)}`);
  return answer;
}

const disc = (width: number, height: number) =>
  paint(width, height, (x, y) =>
    Math.hypot(x - width / 2, y - height / 2) < 0.4 * height ? [200, 16, 46, 255] : [0, 255, 0, 0],
  );

/** A channel as it is seen: alpha itself, or a color times alpha. */
function visible({ width, data }: Raster, x: number, y: number, channel: number): number {
  const at = 4 * (y * width + x);
  return channel === 3 ? data[at + 3]! : (data[at + channel]! * data[at + 3]!) / 255;
}

function isSmoothAt(raster: Raster, x: number, y: number): boolean {
  for (let row = Math.max(0, y - 3); row <= Math.min(raster.height - 1, y + 3); row++)
    for (let column = Math.max(0, x - 3); column <= Math.min(raster.width - 1, x + 3); column += 3)
      for (let channel = 0; channel < 4; channel++)
        if (Math.abs(visible(raster, column, row, channel) - visible(raster, x, y, channel)) > 12)
          return false;
  return true;
}

describe('reading in a pool', () => {
  it('returns source, facts, the raster as PNG and a preview', async () => {
    const answer = await read(writeRgba(300, 200, disc(300, 200)), { name: 'disc.png' });
    expect(answer.source).toMatchObject({ kind: 'png', naturalMm: null, notes: [] });
    expect(answer.facts).toMatchObject({ widthPx: 300, heightPx: 200, inkBox: { width: 159, height: 159 } });
    const raster = await decodePng(answer.raster);
    expect(Buffer.from(raster.data).equals(disc(300, 200))).toBe(true);
    expect(await sharp(answer.preview).metadata()).toMatchObject({ width: 300, height: 200, format: 'png' });
  });

  it('limits the preview to 1600 px, at least 1 px, without colors of clear pixels', async () => {
    const { preview } = await read(writeRgba(2400, 1200, disc(2400, 1200)));
    const small = await decodePng(preview);
    expect([small.width, small.height]).toEqual([1600, 800]);
    for (let at = 0; at < small.data.length; at += 4)
      if (small.data[at + 3]! >= 8) expect(small.data[at + 1]).toBeLessThanOrEqual(60);
    const banner = await read(
      writeRgba(
        12_000,
        3,
        paint(12_000, 3, () => [0, 87, 184, 255]),
      ),
    );
    expect(await sharp(banner.preview).metadata()).toMatchObject({ width: 1600, height: 1 });
    expect(await sharp(banner.raster).metadata()).toMatchObject({ width: 12_000, height: 3 });
  });

  it('shows in the preview what is printed, within 4 levels, for every kind', async () => {
    for (const { name, bytes } of await everyKindOfPicture(PREVIEW_SIDE_PX + 200, 120)) {
      const answer = await read(bytes, { name: 'any' });
      const printed = await decodePng(answer.raster);
      const seen = await decodePng(answer.preview);
      // The mean of what lies beneath each pixel, by our own arithmetic.
      const wanted = previewOf(buildPyramid(printed), PREVIEW_SIDE_PX);
      expect([seen.width, seen.height], name).toEqual([wanted.width, wanted.height]);
      let compared = 0;
      for (let y = 0; y < wanted.height; y++)
        for (let x = 0; x < wanted.width; x++) {
          // Beside a hard edge two ways to shrink differ, as they may.
          if (!isSmoothAt(wanted, x, y)) continue;
          compared++;
          for (let channel = 0; channel < 4; channel++) {
            const off = visible(seen, x, y, channel) - visible(wanted, x, y, channel);
            if (Math.abs(off) > 4) expect.unreachable(`${name} at ${x}, ${y}: off by ${off}`);
          }
        }
      expect(compared / (wanted.width * wanted.height), name).toBeGreaterThan(0.5);
    }
  });

  it('stores only the pixels: no metadata, no profile, nothing after the end', async () => {
    const jpeg = await sharp(disc(60, 40), { raw: { width: 60, height: 40, channels: 4 } })
      .flatten()
      .withMetadata({ orientation: 6 })
      .withIccProfile('p3')
      .jpeg()
      .toBuffer();
    const { raster, source } = await read(Buffer.concat([jpeg, Buffer.from('<script>1</script>')]));
    expect(source.notes.map(({ code }) => code)).toContain('turned-by-metadata');
    const meta = await sharp(raster).metadata();
    expect([meta.width, meta.height, meta.orientation, meta.icc, meta.exif]).toEqual([
      40,
      60,
      undefined,
      undefined,
      undefined,
    ]);
    const end = Buffer.from('\0\0\0\0IEND\xaeB`\x82', 'latin1');
    expect(Buffer.from(raster.subarray(-12)).equals(end)).toBe(true);
    expect(Buffer.from(raster).includes('script')).toBe(false);
    const again = await read(raster);
    expect(again.source.notes).toEqual([]);
    expect([again.facts.widthPx, again.facts.heightPx]).toEqual([40, 60]);
  });

  it('applies remedies to the original, as the core does', async () => {
    const data = paint(90, 60, (x, y) =>
      x > 20 && x < 50 && y > 10 && y < 40 ? [27, 42, 73, 255] : [255, 255, 255, 255],
    );
    const remedies = [
      { kind: 'remove-background', hex: '#ffffff', tolerance: 8, enclosed: false },
      { kind: 'trim' },
      { kind: 'recolor', hex: '#c8102e' },
    ] as const;
    const answer = await read(writeRgba(90, 60, data), { remedies });
    const wanted = applyRemedies({ width: 90, height: 60, data }, remedies);
    const raster = await decodePng(answer.raster);
    expect([raster.width, raster.height]).toEqual([29, 29]);
    expect([raster.width, raster.height]).toEqual([wanted.width, wanted.height]);
    expect(Buffer.from(raster.data).equals(Buffer.from(wanted.data))).toBe(true);
    expect(answer.facts.background).toBeNull();
  });

  it('refuses a file without ink, also if remedies leave none', async () => {
    const clear = { refused: 'nothing-to-print', params: {} };
    expect(
      await pool.read(
        writeRgba(
          9,
          9,
          paint(9, 9, () => [9, 9, 9, 0]),
        ),
      ),
    ).toEqual(clear);
    const white = writeRgba(
      9,
      9,
      paint(9, 9, () => [255, 255, 255, 60]),
    );
    expect(await pool.read(white, { remedies: [{ kind: 'firm-up', threshold: 128 }] })).toEqual(clear);
  });

  it('draws text with the bundled font, whatever is installed', async () => {
    const words = (family: string) =>
      svg(`<text x="5" y="60" font-size="40" font-family="${family}">Ag</text>`, 'width="100" height="100"');
    const own = await read(words('sans-serif'));
    const other = await read(words('DejaVu Serif'));
    expect(own.source.notes).toEqual([]);
    expect(other.source.notes).toEqual([{ code: 'missing-font', fonts: ['DejaVu Serif'] }]);
    // No other font can be found, so both are drawn with the same letters.
    expect(Buffer.from(own.raster).equals(Buffer.from(other.raster))).toBe(true);
  });

  it('can lower the limits for one file', async () => {
    const png = writeRgba(300, 200, disc(300, 200));
    expect(await pool.read(png, { limits: { pixels: 59_999 } })).toMatchObject({
      refused: 'too-many-pixels',
      params: { widthPx: 300, heightPx: 200, limitPx: 59_999 },
    });
    expect(await pool.read(png, { limits: { bytes: 10 } })).toMatchObject({ refused: 'too-large' });
  });

  it('makes a preview of a raster, and a proof', async () => {
    const { raster } = await read(writeRgba(300, 200, disc(300, 200)));
    const preview = await pool.preview(raster, 64);
    expect(isRefusal(preview) ? preview : await sharp(preview.png).metadata()).toMatchObject({
      width: 64,
      height: 43,
    });
    const proof = await pool.proof(
      {
        drawing: { widthMm: 400, heightMm: 200, shapes: [{ d: 'M20 20H380V180H20Z', role: 'cloth' }] },
        clothHex: '#1b2a49',
        longSidePx: 400,
        placements: [
          {
            xMm: 200,
            yMm: 100,
            ink: { widthMm: 80 },
            angleDeg: 0,
            underbase: true,
            softAlpha: 'prints',
            gloss: 0,
          },
        ],
      },
      [raster],
    );
    if (isRefusal(proof)) throw new Error('refused');
    const shown = await decodePng(proof.png);
    const middle = 4 * (100 * shown.width + 200);
    expect([shown.width, shown.height]).toEqual([400, 200]);
    expect(shown.data[middle]).toBeGreaterThan(150);
  });
});

describe('a pool under load', () => {
  it('answers busy with a retry time while its queue is full, and recovers', async () => {
    const png = writeRgba(1500, 1500, disc(1500, 1500));
    const answers = await Promise.all(Array.from({ length: 12 }, () => pool.read(png)));
    const busy = answers.filter((answer) => isRefusal(answer));
    // 2 at work and 2 waiting; none of the rest was kept.
    expect(busy).toHaveLength(8);
    for (const answer of busy) {
      expect(answer).toMatchObject({ refused: 'busy' });
      const { retryAfterS } = (answer as { params: { retryAfterS: number } }).params;
      expect(Number.isInteger(retryAfterS) && retryAfterS >= 1 && retryAfterS <= 60).toBe(true);
    }
    expect(pool.load()).toEqual({ running: 0, waiting: 0, size: 2 });
    expect(isRefusal(await pool.read(png))).toBe(false);
  });

  it('reported no warning in all these tests', () => {
    expect(troubles).toEqual([]);
  });
});

describe('a closed pool', () => {
  it('answers busy, ends its processes and leaves no folder behind', async () => {
    const home = await mkdtemp(join(tmpdir(), 'pool-test-'));
    vi.stubEnv('TMPDIR', home);
    const short = await openFilePool({ size: 2, queue: 4 });
    vi.unstubAllEnvs();
    const folders = async () => (await readdir(home)).filter((name) => name.startsWith('artwork-fonts-'));
    expect(await folders()).toHaveLength(1);
    await short.ready();
    const png = writeRgba(1500, 1500, disc(1500, 1500));
    const underway = [1, 2, 3, 4].map(() => short.read(png));
    await pause(20);
    await short.close();
    for (const answer of await Promise.all(underway)) expect(answer).toMatchObject({ refused: 'busy' });
    expect(await short.read(png)).toMatchObject({ refused: 'busy' });
    expect(await folders()).toEqual([]);
    await rm(home, { recursive: true });
  });
});

describe('messages between processes', () => {
  /** Both ends of a pipe that hands on its bytes in pieces of given lengths. */
  function pipe(pieces: readonly number[]): { write: Duplex; read: Duplex } {
    let turn = 0;
    const read = new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() });
    const write = new Duplex({
      read() {},
      write(chunk: Buffer, _encoding, done) {
        for (let at = 0; at < chunk.length; ) {
          const length = pieces[turn % pieces.length]!;
          turn++;
          read.push(Buffer.from(chunk.subarray(at, at + length)));
          at += length;
        }
        done();
      },
    });
    return { write, read };
  }

  it('arrive complete and in order for any chunks', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.jsonValue(), fc.array(fc.uint8Array({ maxLength: 400 }), { maxLength: 3 })), {
          minLength: 1,
          maxLength: 5,
        }),
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 6 }),
        async (messages, pieces) => {
          const { write, read } = pipe(pieces);
          const got: unknown[] = [];
          onMessages(read, 10_000_000, ({ value, blobs }) =>
            got.push([value, blobs.map((blob) => [...blob])]),
          );
          for (const [value, blobs] of messages) await sendMessage(write, value, blobs);
          while (got.length < messages.length) await pause(0);
          expect(JSON.stringify(got)).toBe(
            JSON.stringify(messages.map(([value, blobs]) => [value, blobs.map((blob) => [...blob])])),
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  it.each([
    ['a length over the limit', Buffer.from([0xff, 0xff, 0xff, 0xff])],
    ['blobs over the limit', frame('{"value":1,"lengths":[2000]}')],
    ['a length that is none', frame('{"value":1,"lengths":[-5]}')],
    ['a head that is not JSON', frame('{"value":')],
  ])('destroy the stream on %s', async (_, bytes) => {
    const { read } = pipe([1]);
    onMessages(read, 1000, () => expect.unreachable());
    const closed = once(read, 'error');
    read.push(bytes);
    await closed;
    expect(read.destroyed).toBe(true);
  });
});

function frame(head: string): Buffer {
  const length = Buffer.alloc(4);
  length.writeUInt32BE(head.length);
  return Buffer.concat([length, Buffer.from(head)]);
}
