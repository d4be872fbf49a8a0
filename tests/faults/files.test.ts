import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FilePool, isRefusal, openFilePool } from '../../api/files/index.ts';
import { decodePng } from '../../api/files/png.ts';
import { cpuS } from '../../api/files/pool/process-usage.ts';
import { writeGif } from '../api/files/fixtures/gif.ts';
import { firstExtra, pdfStream, writePdf } from '../api/files/fixtures/pdf.ts';
import {
  completeBomb,
  headerOnlyPng,
  iccChunk,
  paint,
  pngChunk,
  writePng,
  writeRgba,
} from '../api/files/fixtures/png.ts';
import { SQUARE, svg } from '../api/files/fixtures/svg.ts';
import { writeTiff } from '../api/files/fixtures/tiff.ts';
import { good, readers, watchReading } from './watched-reading.ts';

let pool: FilePool;
const troubles: string[] = [];
beforeAll(async () => {
  pool = await openFilePool({ size: 2, onWarning: (what) => troubles.push(what) });
  await pool.ready();
});
afterAll(() => pool.close());

const watched = (bytes: Uint8Array, name?: string) => watchReading(pool, bytes, name);

describe('a hostile file is answered within time and memory limits, while others are served', () => {
  const refusedCases: readonly (readonly [string, () => Uint8Array | Promise<Uint8Array>, string])[] = [
    ['no bytes', () => new Uint8Array(), 'empty-file'],
    ['a header that claims gigapixels', () => headerOnlyPng(30_000, 30_000), 'too-many-pixels'],
    ['gigapixels, complete', () => completeBomb(30_000, 30_000), 'too-many-pixels'],
    ['a side of a million', () => headerOnlyPng(1_000_000, 2), 'too-many-pixels'],
    [
      'the largest sides there are',
      () => headerOnlyPng(0x7fffffff, 0x7fffffff),
      'damaged-file|too-many-pixels|incomplete-file',
    ],
    [
      'a TIFF of gigapixels in no bytes',
      () => {
        const tiff = writeTiff([
          { width: 4, height: 4, channels: 3, bits: 8, samples: Buffer.alloc(48), photometric: 2 },
        ]);
        return patchTiffSize(tiff, 60_000);
      },
      'too-many-pixels',
    ],
    ['a PNG cut off', () => good.subarray(0, good.length - 30), 'incomplete-file'],
    [
      'a web page',
      () => Buffer.from('<!doctype html><script>fetch("http://127.0.0.1:9")</script>'),
      'not-a-picture',
    ],
    [
      'HEIC',
      () => Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\0\x08mdat', 'latin1'),
      'unsupported-kind',
    ],
    ['nested entities', () => svg('<text>&l9;</text>', undefined, laughs()), 'entities-in-drawing'],
    [
      'one entity used very often',
      () =>
        svg(
          `<text>${'&a;'.repeat(100_000)}</text>`,
          undefined,
          `<!DOCTYPE svg [<!ENTITY a "${'x'.repeat(100_000)}">]>`,
        ),
      'entities-in-drawing',
    ],
    [
      'a parameter entity',
      () => svg(SQUARE, undefined, '<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://127.0.0.1:9/x.dtd"> %p;]>'),
      'entities-in-drawing',
    ],
    [
      'a ring of uses',
      () => svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'),
      'too-complex',
    ],
    ['a tree of uses', () => svg(useTree(30)), 'too-complex'],
    ['a tree of patterns', () => svg(patternTree(20)), 'too-complex'],
    ['a tree of markers', () => svg(markerTree(20)), 'too-complex'],
    ['deep nesting', () => svg('<g>'.repeat(1_000_000)), 'too-complex'],
    ['very many elements', () => svg('<path d="M0 0h9"/>'.repeat(1_000_000)), 'too-complex'],
    [
      'very many attributes',
      () => svg(`<g ${Array.from({ length: 200_000 }, (_, index) => `a${index}="1"`).join(' ')}/>`),
      'nothing-to-print',
    ],
    ['very deep style', () => svg(`<style>${'a{'.repeat(200_000)}</style>`), 'nothing-to-print'],
    [
      'very many blurs over the page',
      () =>
        svg(
          `<filter id="f">${'<feGaussianBlur stdDeviation="40"/>'.repeat(60)}</filter><g filter="url(#f)">${SQUARE}</g>`,
        ),
      'too-complex',
    ],
    [
      'groups with opacity beyond count',
      () => svg('<g opacity=".9"><path d="M0 0h9"/></g>'.repeat(24_000)),
      'too-complex',
    ],
    [
      'nested groups with opacity',
      () => svg(`${'<g opacity=".9">'.repeat(120)}${SQUARE}${'</g>'.repeat(120)}`),
      'too-complex',
    ],
    [
      'an embedded bomb',
      () =>
        svg(
          `<image width="9" height="9" href="data:image/png;base64,${completeBomb(30_000, 30_000).toString('base64')}"/>`,
        ),
      'too-many-pixels',
    ],
    ['a PDF of nothing', () => Buffer.from('%PDF-1.7\n'), 'incomplete-file'],
    ['a PDF whose pages are each other', () => ringOfPages(), 'damaged-file|nothing-to-print|took-too-long'],
    [
      'a PDF whose form draws itself',
      () => ringOfForms(),
      'damaged-file|nothing-to-print|took-too-long|too-much-memory|reader-failed',
    ],
    [
      'a PDF stream that unpacks without end',
      () => pdfBomb(),
      'damaged-file|nothing-to-print|took-too-long|too-much-memory|reader-failed',
    ],
    [
      'a PDF that loops for long',
      () => writePdf([{ widthPt: 300, heightPt: 300, content: '0 0 9 9 re f '.repeat(1_500_000) }]),
      'took-too-long|too-much-memory|reader-failed',
    ],
  ];

  it.each(refusedCases)('%s', async (_, make, codes) => {
    const { answer } = await watched(await make());
    if (!isRefusal(answer)) expect.unreachable(`was read: ${JSON.stringify(answer.source)}`);
    else expect(codes.split('|'), JSON.stringify(answer)).toContain(answer.refused);
  });

  const eitherCases: readonly (readonly [string, () => Uint8Array | Promise<Uint8Array>])[] = [
    [
      'a GIF screen of gigapixels',
      () => writeGif(65_535, 65_535, [], [{ left: 0, top: 0, width: 2, height: 2, index: 1 }]),
    ],
    [
      'a filter sized in the wrong unit',
      () =>
        svg(
          `<filter id="f" x="-150" y="-150" width="600" height="600"><feGaussianBlur stdDeviation="4"/></filter><g filter="url(#f)">${SQUARE}</g>`,
        ),
    ],
    [
      'a filter over a huge part of user space',
      () =>
        svg(
          `<filter id="f" filterUnits="userSpaceOnUse" x="-1e9" y="-1e9" width="2e9" height="2e9"><feTurbulence baseFrequency=".00001" numOctaves="9999"/></filter><g filter="url(#f)">${SQUARE}</g>`,
        ),
    ],
    [
      'a morphology of huge radius',
      () =>
        svg(
          `<filter id="f"><feMorphology operator="dilate" radius="100000"/></filter><g filter="url(#f)">${SQUARE}</g>`,
        ),
    ],
    [
      'a convolution of huge order',
      () =>
        svg(
          `<filter id="f"><feConvolveMatrix order="500" kernelMatrix="${'1 '.repeat(250_000)}"/></filter><g filter="url(#f)">${SQUARE}</g>`,
        ),
    ],
    [
      'dashes beyond count',
      () => svg('<path d="M0 0H100000" stroke="#000" stroke-width="99" stroke-dasharray=".00001"/>'),
    ],
    [
      'a pattern of tiny tiles',
      () =>
        svg(
          '<pattern id="p" width=".00001" height=".00001"><path d="M0 0h1v1z"/></pattern><rect width="100" height="100" fill="url(#p)"/>',
        ),
    ],
    [
      'a path of very many curves',
      () =>
        svg(
          `<path d="M0 0${'c1e5 9-1e5 9 .01 0'.repeat(300_000)}" stroke="#000" fill="none" stroke-linejoin="round"/>`,
        ),
    ],
    [
      'numbers beyond all bounds',
      () =>
        svg(
          '<rect x="-1e308" width="1e999" height="1e308" transform="scale(1e300)"/>',
          'width="1e300" height="1e300" viewBox="-1e300 0 1e301 1e300"',
        ),
    ],
    ['a size without end', () => svg(SQUARE, 'width="1e9mm" height="1mm"')],
    [
      'letters of monstrous size',
      () => svg(`<text font-size="1e7" font-family="sans-serif">${'W'.repeat(15_000)}</text>`),
    ],
    ['no size and parts far apart', () => svg('<path d="M-1e8 0h1"/><path d="M1e8 1e8h1"/>', '')],
    [
      'compressed text that unpacks without end',
      () => withBomb('zTXt', Buffer.from('Comment\0\0', 'latin1')),
    ],
    ['a profile that unpacks without end', () => withBomb('iCCP', Buffer.from('bomb\0\0', 'latin1'))],
    [
      'a profile of noise',
      () =>
        writePng({
          width: 4,
          height: 4,
          bitDepth: 8,
          colorType: 6,
          rows: paint(4, 4, () => [1, 2, 3, 255]),
          before: [['iCCP', iccChunk(Buffer.alloc(4000, 0xa5))]],
        }),
    ],
    ['a JPEG of very many passes', () => manyScans(5000, 900, 900)],
    [
      'a PDF page of a kilometer',
      () => writePdf([{ widthPt: 2_800_000, heightPt: 300, content: '1 0 0 rg 0 0 2800000 300 re f' }]),
    ],
    ['a PDF with shadings by a function', () => pdfShading()],
  ];

  it.each(eitherCases)('%s', async (_, make) => {
    const { answer } = await watched(await make());
    // Drawn within bounds, or refused by a code that says why; never anything else.
    if (isRefusal(answer))
      expect(answer.refused).toMatch(
        /^(took-too-long|too-much-memory|too-complex|nothing-to-print|damaged-file|incomplete-file|reader-failed)$/,
      );
    else {
      expect(answer.facts.widthPx * answer.facts.heightPx).toBeLessThanOrEqual(12_100_000);
      expect(JSON.stringify(answer.facts)).not.toContain('null,"height"');
    }
  });

  it('every reader process runs again afterwards', async () => {
    await pool.ready();
    expect(readers()).toHaveLength(2);
    const answers = await Promise.all(Array.from({ length: 6 }, () => pool.read(good)));
    expect(answers.filter((answer) => !isRefusal(answer))).toHaveLength(6);
    expect(pool.load()).toEqual({ running: 0, waiting: 0, size: 2 });
  });
});

describe('a misleading name or container', () => {
  it('does not keep an SVG from being cleaned', async () => {
    const bytes = svg(`${SQUARE}<script>1</script>`);
    const { answer } = await watched(bytes, 'harmless.png');
    if (isRefusal(answer)) throw new Error('refused');
    expect(answer.source.kind).toBe('svg');
    expect(answer.source.notes.map(({ code }) => code)).toEqual([
      'active-content-dropped',
      'name-does-not-match',
    ]);
  });

  it('does not turn a PNG followed by HTML into a page', async () => {
    const polyglot = Buffer.concat([good, Buffer.from('<html><script>document.title="ran"</script></html>')]);
    const { answer } = await watched(polyglot, 'both.html');
    if (isRefusal(answer)) throw new Error('refused');
    for (const stored of [answer.raster, answer.preview]) {
      expect(Buffer.from(stored).includes('script')).toBe(false);
      expect(Buffer.from(stored.subarray(-8)).toString('latin1')).toBe('IEND\xaeB`\x82');
    }
  });

  it('does not carry metadata into what is stored', async () => {
    const png = writePng({
      width: 8,
      height: 8,
      bitDepth: 8,
      colorType: 6,
      rows: paint(8, 8, () => [1, 2, 3, 255]),
      before: [['tEXt', Buffer.from('Comment\0<script>alert(1)</script>', 'latin1')]],
    });
    const { answer } = await watched(png);
    expect(isRefusal(answer) || Buffer.from(answer.raster).includes('script')).toBe(false);
  });
});

describe('no URL or path in a drawing is fetched or read', () => {
  let server: Server;
  let home: string;
  const requests: string[] = [];
  const PORT = 4713;

  beforeAll(async () => {
    server = createServer((request, response) => {
      requests.push(request.url ?? '');
      response.end(good);
    });
    await new Promise<void>((resolve) => server.listen(PORT, '127.0.0.1', resolve));
    home = await mkdtemp(join(tmpdir(), 'neighbor-'));
    await writeFile(
      join(home, 'secret.png'),
      writeRgba(
        16,
        16,
        paint(16, 16, () => [0, 255, 0, 255]),
      ),
    );
    await writeFile(join(home, 'secret.txt'), 'secret-host-name');
  });
  afterAll(async () => {
    await new Promise((resolve) => server.close(resolve));
    await rm(home, { recursive: true });
  });

  const web = `http://127.0.0.1:${PORT}`;
  const drawings = (): readonly (readonly [string, Buffer])[] => [
    ['image', svg(`${SQUARE}<image href="${web}/a.png" width="100" height="100"/>`)],
    ['image by xlink', svg(`${SQUARE}<image xlink:href="${web}/b.png" width="100" height="100"/>`)],
    [
      'image without a scheme',
      svg(`${SQUARE}<image href="//127.0.0.1:${PORT}/c.png" width="100" height="100"/>`),
    ],
    ['use', svg(`${SQUARE}<use href="${web}/d.svg#x"/>`)],
    [
      'feImage',
      svg(`<filter id="f"><feImage href="${web}/e.png"/></filter><g filter="url(#f)">${SQUARE}</g>${SQUARE}`),
    ],
    ['import', svg(`<style>@import url(${web}/f.css);</style>${SQUARE}`)],
    [
      'font face',
      svg(
        `<style>@font-face{font-family:x;src:url(${web}/g.woff)}</style>${SQUARE}<text font-family="x">a</text>`,
      ),
    ],
    ['fill', svg(`${SQUARE}<circle r="9" fill="url(${web}/h.svg#p)"/>`)],
    [
      'cursor and custom property',
      svg(`<g style="cursor:url(${web}/i.cur);--a:url(${web}/j)">${SQUARE}</g>`),
    ],
    ['instruction', svg(SQUARE, undefined, `<?xml-stylesheet type="text/css" href="${web}/k.css"?>`)],
    ['document type', svg(SQUARE, undefined, `<!DOCTYPE svg SYSTEM "${web}/l.dtd">`)],
    ['xml:base', svg(`<g xml:base="${web}/">${SQUARE}<image href="m.png" width="9" height="9"/></g>`)],
    [
      'a file by its address',
      svg(`${SQUARE}<image href="file://${home}/secret.png" width="100" height="100"/>`),
    ],
    ['a file by its path', svg(`${SQUARE}<image href="${home}/secret.png" width="100" height="100"/>`)],
    [
      'a file by a way up',
      svg(`${SQUARE}<image href="${'../'.repeat(12)}${home.slice(1)}/secret.png" width="100" height="100"/>`),
    ],
    [
      'a file inside data',
      svg(
        `${SQUARE}<image width="100" height="100" href="data:image/svg+xml;base64,${svg(`<image href="file://${home}/secret.png" width="9" height="9"/>`).toString('base64')}"/>`,
      ),
    ],
    [
      'included XML',
      svg(
        `${SQUARE}<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="file://${home}/secret.txt" parse="text"/>`,
      ),
    ],
  ];

  it('for an SVG', async () => {
    for (const [what, bytes] of drawings()) {
      const answer = await pool.read(bytes);
      if (isRefusal(answer)) throw new Error(`${what} refused: ${JSON.stringify(answer)}`);
      const { data } = await decodePng(answer.preview);
      for (let at = 0; at < data.length; at += 4)
        if (data[at + 1]! > 200 && data[at]! < 60 && data[at + 3]! > 0)
          expect.unreachable(`${what} shows the neighbor`);
    }
    await pause(300);
    expect(requests).toEqual([]);
  });

  it('and the listener does record requests', async () => {
    await (await fetch(`${web}/heard`)).arrayBuffer();
    expect(requests).toEqual(['/heard']);
    requests.length = 0;
  });

  it('for a PDF', async () => {
    const action = `<< /S /URI /URI (${web}/uri) >>`;
    const launch = `<< /S /Launch /F (${home}/secret.txt) >>`;
    const external = pdfStream('', `/F (${web}/stream) /FFilter /FlateDecode`);
    const bytes = writePdf(
      [
        {
          widthPt: 200,
          heightPt: 100,
          content: '1 0 0 rg 20 20 160 60 re f',
          entries: `/Resources << /XObject << /X ${firstExtra(1) + 2} 0 R >> >> /AA << /O ${firstExtra(1)} 0 R /C ${firstExtra(1) + 1} 0 R >>`,
        },
      ],
      [action, launch, external],
    );
    const answer = await pool.read(bytes);
    expect(isRefusal(answer) ? answer : answer.source.kind).toBe('pdf');
    await pause(300);
    expect(requests).toEqual([]);
  });

  it('and no answer contains a local file', async () => {
    const host = (await readFile('/etc/hostname', 'utf8').catch(() => 'no-such-host-name')).trim();
    const answer = await pool.read(
      svg(
        '<text font-family="sans-serif">&x;</text>',
        undefined,
        '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>',
      ),
    );
    expect(answer).toEqual({ refused: 'entities-in-drawing', params: {} });
    expect(host).not.toBe('');
    expect(JSON.stringify(answer)).not.toContain(host);
  });
});

describe('a reader process', () => {
  it('is replaced if it is killed, and its file is refused', async () => {
    const own = await openFilePool({ size: 1, onWarning: (what) => troubles.push(what) });
    await own.ready();
    const [pid] = readers().filter((one) => !before.has(one));
    const big = paint(3000, 3000, (x, y) => [x & 255, y & 255, (x * y) & 255, 255]);
    const reading = own.read(writeRgba(3000, 3000, big));
    await pause(60);
    process.kill(pid!, 'SIGSEGV');
    expect(await reading).toEqual({ refused: 'reader-failed', params: {} });
    expect(troubles.splice(0).join()).toMatch(/exited by itself/);
    expect(isRefusal(await own.read(good))).toBe(false);
    await own.close();
  });
  const before = new Set<number>();
  beforeAll(() => {
    for (const pid of readers()) before.add(pid);
  });

  it('gets none of the server’s secrets', async () => {
    const pid = readers()[0]!;
    process.env['SECRET_FOR_TEST'] = 'sesame';
    const own = await openFilePool({ size: 1 });
    await own.ready();
    const fresh = readers().find((one) => !before.has(one) && one !== pid)!;
    expect(readFileSync(`/proc/${fresh}/environ`, 'latin1')).not.toContain('sesame');
    delete process.env['SECRET_FOR_TEST'];
    await own.close();
  });

  it('exits with the server, however that ended', async () => {
    const script = `
      import { openFilePool } from '${new URL('../../api/files/index.ts', import.meta.url).pathname}';
      const pool = await openFilePool({ size: 2 });
      await pool.ready();
      const { readdirSync, readFileSync } = await import('node:fs');
      const own = readdirSync('/proc').filter((name) => /^\\d+$/.test(name)).filter((pid) => {
        try { return readFileSync('/proc/' + pid + '/stat', 'latin1').split(') ')[1].split(' ')[1] === String(process.pid) && readFileSync('/proc/' + pid + '/cmdline', 'latin1').includes('pool/child'); } catch { return false; }
      });
      process.stdout.write(own.join(' '), () => process.kill(process.pid, 'SIGKILL'));
    `;
    let printed = '';
    try {
      printed = execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
        encoding: 'utf8',
      });
    } catch (error) {
      printed = String((error as { stdout?: string }).stdout ?? '');
    }
    const pids = printed.trim().split(' ').map(Number);
    expect(pids).toHaveLength(2);
    const isThere = (pid: number) => {
      try {
        return !/\) Z/.test(readFileSync(`/proc/${pid}/stat`, 'latin1'));
      } catch {
        return false;
      }
    };
    await expect.poll(() => pids.filter(isThere)).toEqual([]);
  });
});

describe('the event loop', () => {
  it('is not blocked while a big picture is read and a bomb is killed', async () => {
    const noise = await sharp(
      paint(2500, 2000, (x, y) => [(x * y) & 255, x & 255, y & 255, 255]),
      {
        raw: { width: 2500, height: 2000, channels: 4 },
      },
    )
      .png({ compressionLevel: 1 })
      .toBuffer();
    // Processor time, not delays: those depend on what else the machine does, and are a benchmark's.
    const reading = readers().map((pid) => ({ pid, fromS: cpuS(pid) ?? 0 }));
    const start = process.cpuUsage();
    const ticks = { count: 0 };
    const tick = setInterval(() => {
      ticks.count++;
    }, 5);
    const answers = await Promise.all([
      pool.read(noise),
      pool.read(svg('<path d="M0 0H100000" stroke="#000" stroke-width="99" stroke-dasharray=".00001"/>')),
    ]);
    clearInterval(tick);
    const { user, system } = process.cpuUsage(start);
    const readingS = reading.reduce((sum, { pid, fromS }) => sum + (cpuS(pid) ?? fromS) - fromS, 0);
    expect(isRefusal(answers[0])).toBe(false);
    expect(ticks.count).toBeGreaterThan(10);
    expect((user + system) / 1e6).toBeLessThan(readingS / 2);
  });
});

function laughs(): string {
  const levels = Array.from(
    { length: 9 },
    (_, level) => `<!ENTITY l${level + 1} "${`&l${level};`.repeat(10)}">`,
  );
  return `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY l0 "lol">${levels.join('')}]>`;
}

function useTree(levels: number): string {
  const rest = Array.from(
    { length: levels },
    (_, level) => `<g id="l${level + 1}"><use href="#l${level}"/><use href="#l${level}"/></g>`,
  );
  return `<defs><g id="l0">${SQUARE}</g>${rest.join('')}</defs><use href="#l${levels}"/>`;
}

function patternTree(levels: number): string {
  const rest = Array.from(
    { length: levels },
    (_, level) =>
      `<pattern id="p${level + 1}" width="9" height="9">${`<rect width="9" height="9" fill="url(#p${level})"/>`.repeat(3)}</pattern>`,
  );
  return `<pattern id="p0" width="9" height="9">${SQUARE}</pattern>${rest.join('')}<rect width="99" height="99" fill="url(#p${levels})"/>`;
}

function markerTree(levels: number): string {
  const rest = Array.from(
    { length: levels },
    (_, level) =>
      `<marker id="m${level + 1}"><g>${`<path d="M0 0h9" marker-end="url(#m${level})"/>`.repeat(3)}</g></marker>`,
  );
  return `<marker id="m0">${SQUARE}</marker>${rest.join('')}<path d="M0 0h99" marker-start="url(#m${levels})"/>`;
}

/** Writes another width and height into the only directory of a big-endian TIFF. */
function patchTiffSize(tiff: Buffer, size: number): Buffer {
  const directory = tiff.readUInt32BE(4);
  for (let entry = directory + 2; entry < directory + 2 + 12 * tiff.readUInt16BE(directory); entry += 12)
    if ([256, 257].includes(tiff.readUInt16BE(entry))) tiff.writeUInt32BE(size, entry + 8);
  return tiff;
}

/** A small picture with a chunk of 400 MB of zeros in 400 KB. */
function withBomb(type: string, head: Buffer): Buffer {
  const packed = deflateSync(Buffer.alloc(400_000_000), { level: 9 });
  const end = good.length - 12;
  const ihdr = 8 + 25;
  return Buffer.concat([
    good.subarray(0, ihdr),
    pngChunk(type, Buffer.concat([head, packed])),
    good.subarray(ihdr, end),
    good.subarray(end),
  ]);
}

async function manyScans(count: number, width: number, height: number): Promise<Buffer> {
  const jpeg = await sharp({ create: { width, height, channels: 3, background: '#345' } })
    .jpeg({ progressive: true })
    .toBuffer();
  const scan = jpeg.subarray(jpeg.lastIndexOf(Buffer.from([0xff, 0xda])), jpeg.length - 2);
  return Buffer.concat([jpeg.subarray(0, -2), ...Array<Buffer>(count).fill(scan), jpeg.subarray(-2)]);
}

function ringOfPages(): Buffer {
  const whole = writePdf([{ widthPt: 9, heightPt: 9, content: '' }]).toString('latin1');
  return Buffer.from(whole.replace('/Kids [3 0 R]', '/Kids [2 0 R]'), 'latin1');
}

function ringOfForms(): Buffer {
  const self = firstExtra(1);
  return writePdf(
    [
      {
        widthPt: 300,
        heightPt: 300,
        content: '/X Do',
        entries: `/Resources << /XObject << /X ${self} 0 R >> >>`,
      },
    ],
    [
      pdfStream(
        '/X Do /X Do',
        `/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Resources << /XObject << /X ${self} 0 R >> >>`,
      ),
    ],
  );
}

function pdfBomb(): Buffer {
  const packed = deflateSync(Buffer.alloc(1_000_000_000, ' '), { level: 9 }).toString('latin1');
  const plain = writePdf([{ widthPt: 300, heightPt: 300, content: '' }]).toString('latin1');
  const stream = `<< /Length ${packed.length} /Filter /FlateDecode >>\nstream\n${packed}\nendstream`;
  return Buffer.from(
    plain.replace(/<< \/Length 0 {2}>>\nstream\n\nendstream/, () => stream),
    'latin1',
  );
}

function pdfShading(): Buffer {
  const first = firstExtra(1);
  return writePdf(
    [
      {
        widthPt: 300,
        heightPt: 300,
        content: '/S sh '.repeat(200),
        entries: `/Resources << /Shading << /S ${first} 0 R >> >>`,
      },
    ],
    [
      `<< /ShadingType 1 /ColorSpace /DeviceRGB /Domain [0 300 0 300] /Function ${first + 1} 0 R >>`,
      pdfStream(
        '{ 2 copy add sin abs 3 1 roll mul cos abs 1 index 1 index add 2 div }',
        '/FunctionType 4 /Domain [0 300 0 300] /Range [0 1 0 1 0 1]',
      ),
    ],
  );
}
