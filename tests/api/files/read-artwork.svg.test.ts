import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { type ReadFile, readArtwork } from '../../../api/files/read-artwork.ts';
import { type FileRefusal, isRefusal } from '../../../api/files/refusal.ts';
import { inkBoxOf } from '../../../src/artwork/index.ts';
import { headerOnlyPng, paint, writeRgba } from './fixtures/png.ts';
import { SQUARE, svg } from './fixtures/svg.ts';

async function read(bytes: Uint8Array): Promise<ReadFile> {
  const answer = await readArtwork(bytes);
  if (isRefusal(answer)) throw new Error(`refused: ${JSON.stringify(answer)}`);
  return answer;
}

async function refusal(bytes: Uint8Array): Promise<FileRefusal> {
  const answer = await readArtwork(bytes);
  if (!isRefusal(answer)) throw new Error('was read');
  return answer;
}

/** The color at a share of the width and height. */
function at({ raster }: ReadFile, x: number, y: number): number[] {
  const px = Math.floor(y * raster.height) * raster.width + Math.floor(x * raster.width);
  return [...raster.data.subarray(4 * px, 4 * px + 4)];
}

const RED = [200, 16, 46, 255];
const CLEAR = [0, 0, 0, 0];

describe('the size of a drawing', () => {
  const half = '<rect width="50%" height="100%" fill="#c8102e"/>';

  it.each([
    ['px', 'width="200" height="100"', 200, 100],
    ['px written out', 'width="200px" height="100px"', 200, 100],
    ['mm', 'width="50mm" height="25mm" viewBox="0 0 200 100"', 50 * (96 / 25.4), 25 * (96 / 25.4)],
    ['cm', 'width="5cm" height="2.5cm" viewBox="0 0 200 100"', 50 * (96 / 25.4), 25 * (96 / 25.4)],
    ['in', 'width="2in" height="1in" viewBox="0 0 200 100"', 192, 96],
    ['pt', 'width="144pt" height="72pt" viewBox="0 0 200 100"', 192, 96],
    ['pc', 'width="12pc" height="6pc" viewBox="0 0 200 100"', 192, 96],
    ['width alone', 'width="2in" viewBox="0 0 200 100"', 192, 96],
    ['height alone', 'height="1in" viewBox="0 0 200 100"', 192, 96],
    [
      'a style, which outranks attributes',
      'style="width:2in;height:1in" width="7" height="9" viewBox="0 0 2 1"',
      192,
      96,
    ],
  ])('in %s is converted to mm at 96 dpi', async (_, size, widthPx, heightPx) => {
    const file = await read(svg(half, size));
    expect(file.source.naturalMm!.widthMm).toBeCloseTo((widthPx * 25.4) / 96, 6);
    expect(file.source.naturalMm!.heightMm).toBeCloseTo((heightPx * 25.4) / 96, 6);
    expect([file.raster.width, file.raster.height]).toEqual([4500, 2250]);
    expect([at(file, 0.25, 0.5), at(file, 0.75, 0.5)]).toEqual([RED, CLEAR]);
    expect(file.source.notes).toEqual([]);
  });

  it.each([
    ['only a viewBox', 'viewBox="100 50 300 150"'],
    ['percentages', 'width="100%" height="100%" viewBox="100 50 300 150"'],
    ['a style in percent', 'style="width:100%;height:auto" viewBox="100 50 300 150"'],
  ])("by %s has the viewBox's aspect ratio and origin, and no size in mm", async (_, size) => {
    const file = await read(svg('<rect x="130" y="65" width="240" height="120" fill="#007a3d"/>', size));
    expect([file.raster.width, file.raster.height]).toEqual([4500, 2250]);
    expect(inkBoxOf(file.raster)).toEqual({ left: 450, top: 225, width: 3600, height: 1800 });
    expect(file.source.naturalMm).toBeNull();
    expect(file.source.notes).toEqual([]);
  });

  it('is found from the content if it is not stated', async () => {
    // 80..240 x 20..110: a ratio of 160:90.
    const file = await read(
      svg(
        '<rect x="80" y="20" width="160" height="30" fill="#c8102e"/><circle cx="100" cy="90" r="20" fill="#1b2a49"/>',
        '',
      ),
    );
    expect(file.source.notes).toEqual([{ code: 'no-size-in-file' }]);
    expect(file.raster.width / file.raster.height).toBeCloseTo(160 / 90, 1);
    const ink = inkBoxOf(file.raster)!;
    expect(ink.width / file.raster.width).toBeGreaterThan(0.99);
    expect(ink.height / file.raster.height).toBeGreaterThan(0.99);
    // The bar reaches from the left to the right edge of what is kept; the disc has its full width of 40.
    expect(at(file, 0.01, 0.1)).toEqual(RED);
    expect(at(file, 0.99, 0.1)).toEqual(RED);
    expect(at(file, 20 / 160, 70 / 90)).toEqual([27, 42, 73, 255]);
  });

  it.each([
    ['far from the origin', '<rect x="-9000" y="7000" width="40" height="10" fill="#c8102e"/>', 4],
    [
      'a hairline beside a speck',
      '<path d="M0 0H3000" stroke="#000" stroke-width=".2"/><rect y="999" width="1" height="1"/>',
      3,
    ],
    ['very small', '<rect x=".2" y=".1" width=".1" height=".05" fill="#c8102e"/>', 2],
  ])('if not stated, is found %s', async (_, content, ratio) => {
    const file = await read(svg(content, ''));
    expect(file.raster.width / file.raster.height).toBeCloseTo(ratio, 0);
    expect(inkBoxOf(file.raster)).toBeDefined();
  });

  it('fits the view into a size of another aspect ratio', async () => {
    // A square view in a size of 2:1 is centered (xMidYMid): ink from 1/4 to 3/4.
    const file = await read(
      svg('<rect width="10" height="10"/>', 'width="200" height="100" viewBox="0 0 10 10"'),
    );
    expect(inkBoxOf(file.raster)).toEqual({ left: 1125, top: 0, width: 2250, height: 2250 });
  });

  it('keeps the true width of strokes in scaled groups and in other units', async () => {
    // 100 mm in 4500 px: 0.25 mm are 11.25 px, 1 mm are 45.
    const file = await read(
      svg(
        '<g stroke="#000"><g transform="scale(.5)"><path d="M20 8V42" stroke-width=".5"/></g>' +
          '<path d="M30 4V21" stroke-width="1"/></g>',
        'width="100mm" height="25mm" viewBox="0 0 100 25"',
      ),
    );
    const row = 600;
    const inked: number[] = [];
    for (let x = 0; x < file.raster.width; x++) {
      const alpha = file.raster.data[4 * (row * file.raster.width + x) + 3]!;
      if (alpha > 0) inked.push(x, alpha);
    }
    const sum = (from: number, to: number) => {
      let total = 0;
      for (let index = 0; index < inked.length; index += 2)
        if (inked[index]! >= from && inked[index]! < to) total += inked[index + 1]! / 255;
      return total;
    };
    expect(sum(300, 800)).toBeCloseTo(11.25, 0);
    expect(sum(1200, 1500)).toBeCloseTo(45, 0);

    const inMm = await read(svg('<rect width="10mm" height="10mm"/>', 'width="96" height="96"'));
    expect(inkBoxOf(inMm.raster)!.width / inMm.raster.width).toBeCloseTo(10 / 25.4, 3);
  });

  it('of an empty drawing is nothing to print', async () => {
    expect(await refusal(svg('', ''))).toEqual({ refused: 'nothing-to-print', params: {} });
  });
});

describe('forbidden content of a drawing', () => {
  it.each([
    ['a script', '<script>alert(1)</script>', 1],
    ['a handler', '<g onclick="alert(1)" ONLOAD="alert(2)"/>', 2],
    [
      'a foreign object',
      '<foreignObject width="9" height="9"><b xmlns="http://www.w3.org/1999/xhtml"/></foreignObject>',
      1,
    ],
    ['an animation', '<animate attributeName="x" to="9" dur="1s"/>', 1],
    ['a link that runs', '<a xlink:href=" java&#10;script:alert(1)"><circle r="9"/></a>', 1],
  ])('%s is dropped and reported', async (_, content, count) => {
    const file = await read(svg(SQUARE + content));
    expect(file.source.notes).toEqual([{ code: 'active-content-dropped', count }]);
    expect(at(file, 0.5, 0.5)).toEqual(RED);
  });

  it.each([
    [
      'pictures',
      '<image href="http://127.0.0.1:9/a.png"/><image xlink:href="../../etc/passwd"/><image href="file:///etc/hostname"/>',
      3,
    ],
    ['another drawing’s part', '<use href="other.svg#part"/>', 1],
    ['a style sheet', '<style>@import "http://127.0.0.1:9/a.css"; rect{opacity:1}</style>', 1],
    ['a fill', '<circle r="5" fill="url(http://127.0.0.1:9/p.svg#a)"/>', 1],
    ['a filter in a style', `<circle r="5" style="filter:url('http://127.0.0.1:9/p.svg#a')"/>`, 1],
    ['an escaped address in a rule', '<style>circle{fill:\\75 rl(http://127.0.0.1:9/p#a)}</style>', 1],
    ['an instruction', '', 1, '<?xml-stylesheet href="http://127.0.0.1:9/a.css"?>'],
  ])('external %s is dropped and reported', async (_, content, count, before = '') => {
    const file = await read(svg(SQUARE + content, undefined, before as string));
    expect(file.source.notes).toEqual([{ code: 'external-reference-dropped', count }]);
    expect(at(file, 0.5, 0.5)).toEqual(RED);
  });

  it('inside a foreign object, both scripts and external resources are reported', async () => {
    const page =
      '<body xmlns="http://www.w3.org/1999/xhtml"><a href="https://shop.example/"><img src="x" onerror="go()"/></a>' +
      '<img src="data:image/png;base64,AA=="/><iframe src="//127.0.0.1:9/"/><object data="#here"/></body>';
    const file = await read(svg(`${SQUARE}<foreignObject width="9" height="9">${page}</foreignObject>`));
    expect(file.source.notes).toEqual([
      { code: 'external-reference-dropped', count: 2 },
      { code: 'active-content-dropped', count: 1 },
    ]);
    expect(at(file, 0.5, 0.5)).toEqual(RED);
  });

  it.each([
    ['a file', '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>', '<text>&x;</text>'],
    ['text', '<!DOCTYPE svg [<!ENTITY a "lol"><!ENTITY b "&a;&a;&a;">]>', '<text>&b;</text>'],
    ['nothing used', '<!DOCTYPE svg [<!ENTITY a "lol">]>', ''],
  ])('an entity definition is refused: %s', async (_, doctype, content) => {
    expect(await refusal(svg(SQUARE + content, undefined, doctype))).toEqual({
      refused: 'entities-in-drawing',
      params: {},
    });
  });

  it('an undefined entity is refused', async () => {
    expect(await refusal(svg(`${SQUARE}<text>&nbsp;</text>`))).toEqual({
      refused: 'damaged-file',
      params: { kind: 'SVG' },
    });
  });

  it('a public document type of old programs is allowed', async () => {
    const doctype =
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">';
    expect((await read(svg(SQUARE, undefined, doctype))).source.notes).toEqual([]);
  });
});

describe('the cost of a drawing', () => {
  it('allows classes, gradients, clips, masks, symbols and a drop shadow', async () => {
    const file = await read(
      svg(
        '<style>.a{fill:url(#g)} #b>rect{fill:#007a3d}</style>' +
          '<defs><linearGradient id="g"><stop stop-color="#c8102e"/><stop offset="1" stop-color="#c8102e"/></linearGradient>' +
          '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10" fill="#0057b8"/></symbol>' +
          '<clipPath id="c"><rect x="60" width="20" height="20"/></clipPath>' +
          '<mask id="m"><rect width="100" height="100" fill="#fff"/></mask></defs>' +
          '<rect class="a" width="20" height="20"/><g id="b"><rect x="30" width="20" height="20"/></g>' +
          '<g clip-path="url(#c)" mask="url(#m)"><rect x="50" width="50" height="50" fill="#ffcd00"/></g>' +
          '<use href="#s" x="0" y="50" width="20" height="20"/>',
      ),
    );
    expect(file.source.notes).toEqual([]);
    expect([at(file, 0.1, 0.1), at(file, 0.4, 0.1), at(file, 0.7, 0.1), at(file, 0.1, 0.6)]).toEqual([
      RED,
      [0, 122, 61, 255],
      [255, 205, 0, 255],
      [0, 87, 184, 255],
    ]);
    expect(at(file, 0.9, 0.1)).toEqual(CLEAR);
  });

  it('lowers the resolution if filters need full-page buffers', async () => {
    const shadow =
      '<filter id="f"><feGaussianBlur in="SourceAlpha" stdDeviation="2"/><feOffset dx="2" dy="2"/>' +
      '<feMerge><feMergeNode/><feMergeNode in="SourceGraphic"/></feMerge></filter>';
    const file = await read(svg(`${shadow}<g filter="url(#f)">${SQUARE}</g>`));
    expect([file.raster.width, file.raster.height]).toEqual([2000, 2000]);
    // Filters work in linear light at 8 bits: dark channels move by a few levels.
    at(file, 0.5, 0.5).forEach((value, index) => {
      expect(Math.abs(value - RED[index]!)).toBeLessThanOrEqual(4);
    });
    const [, , , alpha] = at(file, 0.91, 0.5);
    expect(alpha).toBeGreaterThan(50);
    expect(alpha).toBeLessThan(255);
  });

  it('does not count filters that are defined but not used', async () => {
    const unused = Array.from(
      { length: 40 },
      (_, index) => `<filter id="f${index}"><feGaussianBlur stdDeviation="9"/></filter>`,
    ).join('');
    const file = await read(svg(`<defs>${unused}</defs>${SQUARE}`));
    expect([file.raster.width, file.raster.height]).toEqual([3464, 3464]);
  });

  it('clamps a filter region written in the wrong unit', async () => {
    const file = await read(
      svg(
        '<filter id="f" x="-150" y="-150" width="600" height="600"><feGaussianBlur stdDeviation="4"/></filter>' +
          '<rect x="30" y="30" width="40" height="40" fill="#ffcd00" filter="url(#f)"/>',
      ),
    );
    expect(at(file, 0.5, 0.5)[3]).toBe(255);
    expect(at(file, 0.28, 0.5)[3]).toBeGreaterThan(20);
    expect(at(file, 0.02, 0.5)[3]).toBe(0);
  });

  it.each([
    ['a ring of uses', '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', 'ring'],
    ['a use of itself', '<use id="a" href="#a"/>', 'ring'],
    [
      'a pattern filled with itself',
      '<pattern id="p" width="9" height="9"><rect width="9" height="9" fill="url(#p)"/></pattern><rect width="9" height="9" fill="url(#p)"/>',
      'ring',
    ],
    [
      'a tree of uses',
      `<g id="l0">${SQUARE}</g>${Array.from({ length: 24 }, (_, level) => `<g id="l${level + 1}"><use href="#l${level}"/><use href="#l${level}"/></g>`).join('')}`,
      'shown-elements',
    ],
    [
      'a tree of masks set by rules',
      `<style>${Array.from({ length: 20 }, (_, level) => `.c${level}{mask:url(#m${level})}`).join('')}</style>` +
        `<mask id="m0">${SQUARE}</mask>${Array.from({ length: 19 }, (_, level) => `<mask id="m${level + 1}"><g class="c${level}"/><g class="c${level}"/><g class="c${level}"/></mask>`).join('')}<g class="c19"/>`,
      'shown-elements',
    ],
    [
      'a chain of uses',
      Array.from({ length: 300 }, (_, level) => `<g id="l${level + 1}"><use href="#l${level}"/></g>`).join(
        '',
      ),
      'depth',
    ],
    ['deep nesting', `${'<g>'.repeat(5000)}${'</g>'.repeat(5000)}`, 'depth'],
    ['very many elements', '<path d="M0 0h9"/>'.repeat(50_001), 'elements'],
    ['very much text', `<text>${'word '.repeat(5000)}</text>`, 'text'],
    [
      'very many rules',
      `<style>${Array.from({ length: 5001 }, (_, index) => `.c${index}{fill:red}`).join('')}</style>`,
      'styles',
    ],
    [
      'a filter of very many steps',
      `<filter id="f">${'<feGaussianBlur stdDeviation="9"/>'.repeat(61)}</filter>`,
      'filter',
    ],
    ['very many groups with opacity', '<g opacity=".5"><path d="M0 0h9"/></g>'.repeat(20_000), 'effects'],
    [
      'groups with opacity deep in each other',
      `${'<g opacity=".9">'.repeat(100)}${SQUARE}${'</g>'.repeat(100)}`,
      'layers',
    ],
  ])('is too high with %s', async (_, content, what) => {
    expect(await refusal(svg(SQUARE + content))).toMatchObject({ refused: 'too-complex', params: { what } });
  });

  it('is not computed for a truncated or malformed drawing, which is refused', async () => {
    const whole = svg(`${SQUARE}<g><path d="M0 0h9"/></g>`);
    expect(await refusal(whole.subarray(0, whole.length - 9))).toEqual({
      refused: 'incomplete-file',
      params: { kind: 'SVG' },
    });
    expect(await refusal(svg('<g></path>'))).toEqual({ refused: 'damaged-file', params: { kind: 'SVG' } });
  });
});

describe('pictures embedded in a drawing', () => {
  const dataUrl = (bytes: Buffer, type = 'image/png') => `data:${type};base64,${bytes.toString('base64')}`;
  const green = writeRgba(
    8,
    8,
    paint(8, 8, () => [0, 122, 61, 255]),
  );
  const place = (href: string) => svg(`<image x="25" y="25" width="50" height="50" href="${href}"/>`);

  it('are identified by their bytes, whatever their data URL says', async () => {
    const jpeg = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#007a3d' } })
      .jpeg()
      .toBuffer();
    for (const href of [dataUrl(green), dataUrl(green, 'text/html'), dataUrl(jpeg)]) {
      const file = await read(place(href));
      const [r, g, b, a] = at(file, 0.5, 0.5);
      expect([Math.abs(r! - 0) < 4, Math.abs(g! - 122) < 4, Math.abs(b! - 61) < 4, a]).toEqual([
        true,
        true,
        true,
        255,
      ]);
      expect(at(file, 0.1, 0.1)).toEqual(CLEAR);
      expect(file.source.notes).toEqual([]);
    }
  });

  it('are dropped and reported if they are drawings', async () => {
    const inner = svg('<image href="http://127.0.0.1:9/x.png"/>');
    const file = await read(
      svg(`${SQUARE}<image width="9" height="9" href="${dataUrl(inner, 'image/svg+xml')}"/>`),
    );
    expect(file.source.notes).toEqual([{ code: 'external-reference-dropped', count: 1 }]);
  });

  it('are refused with the drawing if damaged or too big', async () => {
    expect(await refusal(place(dataUrl(green.subarray(0, green.length - 20))))).toEqual({
      refused: 'incomplete-file',
      params: { kind: 'PNG' },
    });
    expect(await refusal(place(dataUrl(headerOnlyPng(30_000, 30_000))))).toMatchObject({
      refused: 'too-many-pixels',
    });
    expect(await refusal(svg(`<image href="${dataUrl(green)}"/>`.repeat(51)))).toMatchObject({
      params: { what: 'embedded-pictures', found: 51, limit: 50 },
    });
  });
});

describe('fonts of a drawing', () => {
  const words = (attributes: string, text = 'United') =>
    svg(`${SQUARE}<text y="50" ${attributes}>${text}</text>`);

  it.each([
    ['an attribute', words('font-family="Nonexistent Brush Pro, sans-serif"'), ['Nonexistent Brush Pro']],
    ['a style', words(`style="font-family:'Odd, Name'"`), ['Odd, Name']],
    ['the shorthand', words(`style="font:italic bold 12px/1.2 'Marker Wide', serif"`), ['Marker Wide']],
    [
      'a rule',
      svg(`<style>.t{font-family:Grotesk Nine}</style>${SQUARE}<text class="t">a</text>`),
      ['Grotesk Nine'],
    ],
    [
      'a parent',
      svg(`${SQUARE}<g font-family="Slab Two"><text>a<tspan font-family="Slab Three">b</tspan></text></g>`),
      ['Slab Two', 'Slab Three'],
    ],
    ['a family this machine may have', words('font-family="DejaVu Sans"'), ['DejaVu Sans']],
    ['a generic family that is not bundled', words('font-family="cursive"'), ['cursive']],
    [
      'letters the bundled font has not got',
      words('font-family="sans-serif"', 'ラーメン 拉麺'),
      ['Han', 'Katakana'],
    ],
  ])('are reported with %s', async (_, bytes, fonts) => {
    expect((await read(bytes)).source.notes).toEqual([{ code: 'missing-font', fonts }]);
  });

  it.each([
    ['the bundled one is asked for', words('font-family="sans-serif"')],
    [
      'no words are set in them',
      svg(`<style>.t{font-family:Grotesk Nine}</style><g class="t">${SQUARE}</g>`),
    ],
    ['the text is empty', words('font-family="Nonexistent Brush Pro"', ' ')],
  ])('are not reported when %s', async (_, bytes) => {
    expect((await read(bytes)).source.notes).toEqual([]);
  });
});
