/** Hostile files beyond the plain ones: what hides in pages, directories, profiles and references. */
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FilePool, isRefusal, openFilePool } from '../../api/files/index.ts';
import { firstExtra, pdfStream, writePdf } from '../api/files/fixtures/pdf.ts';
import { iccChunk, paint, pngChunk, pngHeader, writePng } from '../api/files/fixtures/png.ts';
import { SQUARE, svg } from '../api/files/fixtures/svg.ts';
import { writeTiff } from '../api/files/fixtures/tiff.ts';
import { watchReading } from './watched-reading.ts';

let pool: FilePool;
beforeAll(async () => {
  // What is stopped takes as long as it may: less than usual, so that these tests take less.
  pool = await openFilePool({ size: 2, drawS: 0.8 });
  await pool.ready();
});
afterAll(() => pool.close());

type Case = readonly [what: string, make: () => Uint8Array | Promise<Uint8Array>, answers: string];

/** Stopped while it is read: at a bound on time or on memory. */
const STOPPED = 'took-too-long|too-much-memory';
const FIRST = firstExtra(1);

const cases: readonly Case[] = [
  // PDF (ISO 32000-1)
  ['a tree of forms, each drawing the next ten times', () => pdfTree(12, 10), STOPPED],
  [
    'a JPEG 2000 image that claims gigapixels',
    () => pdfImage(60_000, '', jpeg2000(60_000), 'JPXDecode'),
    `${STOPPED}|damaged-file`,
  ],
  ['a font whose letter is set in itself', pdfLetterRing, 'nothing-to-print|damaged-file|read'],
  ['pages of pages of pages', () => pdfDeepPages(50_000), `${STOPPED}|damaged-file|nothing-to-print|read`],
  [
    'a page as large as a country',
    () => writePdf([{ widthPt: 1e9, heightPt: 1e9, content: '1 0 0 rg 0 0 1e9 1e9 re f' }]),
    'read|nothing-to-print',
  ],
  ['a stream packed three times', pdfPackedThrice, `${STOPPED}|damaged-file|nothing-to-print`],
  // TIFF 6.0, section 2
  ['directories in a ring', tiffRing, 'read|damaged-file'],
  ['a directory of very many pages', () => writeTiff(Array(20_000).fill(TIFF_PAGE)), 'read'],
  // decoders that hold the whole picture
  ['an interlaced picture of 16 bits', () => interlacedClaim(6000), 'too-many-pixels'],
  ['a progressive JPEG of full color', () => progressiveClaim(6000), 'too-many-pixels'],
  ['a WebP over what its decoder may hold', () => webpClaim(6000), 'too-many-pixels|damaged-file'],
  // ICC.1
  [
    'a profile of four thousand million tags',
    () => profiled((icc) => icc.writeUInt32BE(0xffffffff, 128)),
    'read',
  ],
  ['a profile whose curves never end', () => profiled(endlessCurves), 'read'],
  // SVG
  ['masks in masks', () => svg(masks(100)), 'too-complex'],
  ['clips that double', () => svg(clips(24)), 'too-complex'],
  [
    'filter functions beyond count',
    () => svg(`<g style="filter:${'blur(9px) '.repeat(1000)}">${SQUARE}</g>`),
    'too-complex',
  ],
  ['style that must be held against every element', () => svg(heavyStyle()), STOPPED],
  ['drawings in drawings in drawings', () => nestedDrawings(8), 'nothing-to-print'],
];

describe('a file with a hidden trap is answered within time and memory limits, while others are served', () => {
  it.each(cases)('%s', async (_, make, answers) => {
    const { answer } = await watchReading(pool, await make());
    expect(answers.split('|'), JSON.stringify(isRefusal(answer) ? answer : answer.source)).toContain(
      isRefusal(answer) ? answer.refused : 'read',
    );
  });
});

describe('a valid PDF', () => {
  it('with transparency groups is drawn completely', async () => {
    const layer = pdfForm('1 0 0 rg 20 20 90 90 re f', '', '/Group << /S /Transparency >>');
    const bytes = pdfPage(
      '/Half gs /X Do /X Do /X Do /X Do',
      `/ExtGState << /Half << /ca .5 >> >> /XObject << /X ${FIRST} 0 R >>`,
      [layer],
    );
    const { answer } = await watchReading(pool, bytes);
    if (isRefusal(answer)) throw new Error(JSON.stringify(answer));
    // Four times half: 15/16 of it covers.
    const [red] = answer.facts.colors;
    expect(red?.hex).toBe('#FF0000');
    const { width, height } = answer.facts.inkBox!;
    expect(red!.alphaSum / (width * height)).toBeCloseTo(15 / 16, 2);
  });
});

function pdfPage(content: string, resources: string, extras: readonly string[]): Buffer {
  return writePdf(
    [{ widthPt: 300, heightPt: 300, content, entries: `/Resources << ${resources} >>` }],
    extras,
  );
}

function pdfForm(content: string, resources: string, more = ''): string {
  return pdfStream(
    content,
    `/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Resources << ${resources} >> ${more}`,
  );
}

function pdfTree(levels: number, times: number): Buffer {
  const forms = Array.from({ length: levels }, (_, level) =>
    level === levels - 1
      ? pdfForm('0 0 9 9 re f', '')
      : pdfForm('/X Do '.repeat(times), `/XObject << /X ${FIRST + level + 1} 0 R >>`),
  );
  return pdfPage('/X Do', `/XObject << /X ${FIRST} 0 R >>`, forms);
}

function pdfImage(side: number, entries: string, data: string, filter: string): Buffer {
  return pdfPage('300 0 0 300 0 0 cm /I Do', `/XObject << /I ${FIRST} 0 R >>`, [
    pdfStream(
      data,
      `/Type /XObject /Subtype /Image /Width ${side} /Height ${side} ${entries} /Filter /${filter}`,
    ),
  ]);
}

/** A codestream (ISO/IEC 15444-1, annex A) of one empty tile: SIZ, COD, QCD, SOT, SOD, EOC. */
function jpeg2000(side: number): string {
  const size = Buffer.alloc(49);
  size.writeUInt16BE(0xff51, 0);
  size.writeUInt16BE(47, 2);
  for (const at of [6, 10, 22, 26]) size.writeUInt32BE(side, at);
  size.writeUInt16BE(3, 38);
  for (let channel = 0; channel < 3; channel++) size.set([7, 1, 1], 40 + 3 * channel);
  return Buffer.concat([
    Buffer.from([0xff, 0x4f]),
    size,
    Buffer.from([0xff, 0x52, 0, 12, 0, 0, 0, 1, 0, 5, 4, 4, 0, 1]),
    Buffer.from([0xff, 0x5c, 0, 19, 0x40, ...Array<number>(16).fill(0x48)]),
    Buffer.from([0xff, 0x90, 0, 10, 0, 0, 0, 0, 0, 0, 0, 1, 0xff, 0x93, 0xff, 0xd9]),
  ]).toString('latin1');
}

function pdfLetterRing(): Buffer {
  return pdfPage('BT /T 20 Tf 50 50 Td (aaaa) Tj ET', `/Font << /T ${FIRST} 0 R >>`, [
    `<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [.001 0 0 .001 0 0] /FirstChar 97 /LastChar 97 /Widths [1000] /Encoding << /Differences [97 /a] >> /CharProcs << /a ${FIRST + 1} 0 R >> /Resources << /Font << /T ${FIRST} 0 R >> >> >>`,
    pdfStream('1000 0 d0 BT /T 500 Tf (aaaaaaaa) Tj ET'),
  ]);
}

function pdfDeepPages(levels: number): Buffer {
  const nodes = Array.from(
    { length: levels },
    (_, level) => `<< /Type /Pages /Count 1 /Kids [${FIRST + level + 1} 0 R] >>`,
  );
  const whole = writePdf([{ widthPt: 9, heightPt: 9, content: '' }], nodes).toString('latin1');
  return Buffer.from(whole.replace('/Kids [3 0 R]', `/Kids [${FIRST} 0 R]`), 'latin1');
}

function pdfPackedThrice(): Buffer {
  let data = deflateSync(Buffer.alloc(200_000_000, ' '), { level: 9 });
  for (let more = 0; more < 2; more++) data = deflateSync(data, { level: 9 });
  return pdfPage('/X Do', `/XObject << /X ${FIRST} 0 R >>`, [
    pdfStream(
      data.toString('latin1'),
      '/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Filter [/FlateDecode /FlateDecode /FlateDecode]',
    ),
  ]);
}

const TIFF_PAGE = {
  width: 4,
  height: 4,
  channels: 3,
  bits: 8,
  samples: Buffer.alloc(48, 9),
  photometric: 2,
} as const;

/** Two directories, the second pointing back to the first. */
function tiffRing(): Buffer {
  const tiff = writeTiff([TIFF_PAGE, TIFF_PAGE]);
  const first = tiff.readUInt32BE(4);
  const endOf = (directory: number) => directory + 2 + 12 * tiff.readUInt16BE(directory);
  const second = tiff.readUInt32BE(endOf(first));
  tiff.writeUInt32BE(first, endOf(second));
  return tiff;
}

function interlacedClaim(side: number): Buffer {
  const header = pngHeader(side, side, 16, 6).subarray(8, 21);
  const fields = Buffer.from(header);
  fields[12] = 1;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    pngChunk('IHDR', fields),
    pngChunk('IDAT', deflateSync(Buffer.alloc(1))),
    pngChunk('IEND', Buffer.alloc(0)),
  ]);
}

/** A small JPEG whose frame header (SOF2, ITU-T T.81, B.2.2) claims a size. */
async function progressiveClaim(side: number): Promise<Buffer> {
  const jpeg = await sharp({ create: { width: 64, height: 64, channels: 3, background: '#0963c8' } })
    .jpeg({ progressive: true, chromaSubsampling: '4:4:4' })
    .toBuffer();
  const frame = jpeg.indexOf(Buffer.from([0xff, 0xc2]));
  jpeg.writeUInt16BE(side, frame + 5);
  jpeg.writeUInt16BE(side, frame + 7);
  return jpeg;
}

/** A lossless WebP (RFC 9649, 3.4) whose header claims a size: 14 bits each, less one. */
async function webpClaim(side: number): Promise<Buffer> {
  const webp = await sharp({ create: { width: 64, height: 64, channels: 3, background: '#0963c8' } })
    .webp({ lossless: true })
    .toBuffer();
  const bits = webp.indexOf('VP8L') + 9;
  webp.writeUInt32LE((webp.readUInt32LE(bits) & 0xf0000000) + (side - 1) * 2 ** 14 + (side - 1), bits);
  return webp;
}

async function profiled(change: (icc: Buffer) => unknown): Promise<Buffer> {
  const plain = sharp({ create: { width: 4, height: 4, channels: 3, background: '#0963c8' } });
  const { icc } = await sharp(await plain.withIccProfile('p3').png().toBuffer()).metadata();
  const profile = Buffer.from(icc!);
  change(profile);
  return writePng({
    width: 4,
    height: 4,
    bitDepth: 8,
    colorType: 6,
    rows: paint(4, 4, () => [1, 2, 3, 255]),
    before: [['iCCP', iccChunk(profile)]],
  });
}

/** Every curve claims as many entries as a count can (ICC.1:2022, 10.6 and 10.18). */
function endlessCurves(icc: Buffer): void {
  for (const type of ['curv', 'para'])
    for (let at = icc.indexOf(type); at >= 0; at = icc.indexOf(type, at + 4))
      icc.writeUInt32BE(0xffffffff, at + 8);
}

function masks(count: number): string {
  const each = Array.from(
    { length: count },
    (_, at) =>
      `<mask id="m${at}"><rect width="100" height="100" fill="#fff"${at > 0 ? ` mask="url(#m${at - 1})"` : ''}/></mask>`,
  );
  return `${each.join('')}<rect width="100" height="100" mask="url(#m${count - 1})"/>`;
}

function clips(levels: number): string {
  const each = Array.from(
    { length: levels },
    (_, level) =>
      `<clipPath id="c${level + 1}">${`<rect width="100" height="100" clip-path="url(#c${level})"/>`.repeat(2)}</clipPath>`,
  );
  return `<clipPath id="c0">${SQUARE}</clipPath>${each.join('')}<rect width="100" height="100" clip-path="url(#c${levels})"/>`;
}

function heavyStyle(): string {
  const rules = Array.from({ length: 4900 }, (_, at) => `g g g g *:not(.a${at}){fill:red}`);
  return `<style>${rules.join('')}</style><g><g><g><g>${'<path d="M0 0h9v9z"/>'.repeat(40_000)}</g></g></g></g>`;
}

function nestedDrawings(levels: number): Buffer {
  let inner = svg(SQUARE);
  for (let level = 0; level < levels; level++)
    inner = svg(
      `<image width="100" height="100" href="data:image/svg+xml;base64,${inner.toString('base64')}"/>`,
    );
  return inner;
}
