import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { fileKind, kindByName } from '../../../api/files/kind.ts';
import { writeGif } from './fixtures/gif.ts';
import { writePdf } from './fixtures/pdf.ts';
import { paint, writeRgba } from './fixtures/png.ts';
import { SQUARE, svg } from './fixtures/svg.ts';
import { writeTiff } from './fixtures/tiff.ts';

const red = (width = 8, height = 8) => paint(width, height, () => [200, 16, 46, 255]);
const encoded = (format: 'jpeg' | 'webp' | 'avif') =>
  sharp(red(), { raw: { width: 8, height: 8, channels: 4 } })
    [format]()
    .toBuffer();

/** An ISO base media file type box (ISO 14496-12, 4.3) and an empty body. */
const brand = (name: string) => {
  const box = Buffer.from(`\0\0\0\x18ftyp${name}\0\0\0\0mif1${name}`, 'latin1');
  return Buffer.concat([box, Buffer.from('\0\0\0\x08mdat', 'latin1')]);
};

describe('the kind of a file', () => {
  it.each([
    ['png', () => writeRgba(8, 8, red())],
    ['jpeg', () => encoded('jpeg')],
    ['webp', () => encoded('webp')],
    ['avif', () => encoded('avif')],
    [
      'tiff',
      () =>
        writeTiff([{ width: 8, height: 8, channels: 4, bits: 8, samples: red(), photometric: 2, extra: 2 }]),
    ],
    ['gif', () => writeGif(4, 4, [], [{ left: 0, top: 0, width: 4, height: 4, index: 1 }])],
    ['svg', () => svg(SQUARE)],
    ['pdf', () => writePdf([{ widthPt: 72, heightPt: 72, content: '' }])],
  ])('is %s by its bytes', async (kind, make) => {
    expect(await fileKind(await make())).toEqual({ kind });
  });

  it.each([
    ['a byte order mark', '\ufeff', ''],
    ['a declaration and a comment', '<?xml version="1.0"?>\n<!-- made > by < a program -->\n', ''],
    ['a document type', '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/x.dtd">', ''],
    ['a document type with a subset', '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "b>">]>', ''],
    ['much space', ' '.repeat(5000), ''],
  ])('is SVG after %s', async (_, before) => {
    expect(await fileKind(svg(SQUARE, 'width="9" height="9"', before))).toEqual({ kind: 'svg' });
  });

  it('is SVG in UTF-16, and with a namespace prefix', async () => {
    const text = '<s:svg xmlns:s="http://www.w3.org/2000/svg" width="9" height="9"/>';
    expect(await fileKind(Buffer.from(text))).toEqual({ kind: 'svg' });
    expect(await fileKind(Buffer.from(`\ufeff${text}`, 'utf16le'))).toEqual({ kind: 'svg' });
  });

  it.each([
    ['HEIC', brand('heic')],
    ['BMP', Buffer.from(`BM${'\0'.repeat(60)}`, 'latin1')],
    ['PSD', Buffer.from(`8BPS\0\x01${'\0'.repeat(40)}`, 'latin1')],
    ['EPS', Buffer.from('%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n')],
  ])('refuses %s by name, and says what to send', async (kind, bytes) => {
    expect(await fileKind(bytes)).toEqual({
      refused: 'unsupported-kind',
      params: { kind, send: ['PNG', 'JPEG', 'WebP', 'AVIF', 'TIFF', 'GIF', 'SVG', 'PDF'] },
    });
  });

  it.each([
    ['HTML', Buffer.from('<!doctype html><html><body><svg></svg></body></html>')],
    ['HTML', Buffer.from('\n <HTML><script>1</script></HTML>')],
    ['text', Buffer.from('not a picture, though it says <svg> somewhere')],
    ['XML', Buffer.from('<?xml version="1.0"?><plist/>')],
    ['ZIP', Buffer.from('PK\x05\x06'.padEnd(22, '\0'), 'latin1')],
    ['unknown', Buffer.from([1, 2, 0, 3, 4, 5])],
  ])('is not a picture for %s', async (kind, bytes) => {
    expect(await fileKind(bytes)).toMatchObject({ refused: 'not-a-picture', params: { kind } });
  });

  it('is refused for an empty file', async () => {
    expect(await fileKind(new Uint8Array())).toEqual({ refused: 'empty-file', params: {} });
  });

  it('is never decided by the name', () => {
    expect(kindByName('Crest.JPG')).toEqual({ kind: 'jpeg', ending: 'jpg' });
    expect(kindByName('crest.final')).toBeNull();
    expect(kindByName('crest')).toBeNull();
  });
});
