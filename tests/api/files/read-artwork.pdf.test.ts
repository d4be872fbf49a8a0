import { describe, expect, it } from 'vitest';
import { type ReadFile, readArtwork } from '../../../api/files/read-artwork.ts';
import { isRefusal } from '../../../api/files/refusal.ts';
import { inkBoxOf } from '../../../src/artwork/index.ts';
import { firstExtra, type PdfPage, pdfStream, writePdf } from './fixtures/pdf.ts';

async function read(bytes: Uint8Array): Promise<ReadFile> {
  const answer = await readArtwork(bytes);
  if (isRefusal(answer)) throw new Error(`refused: ${JSON.stringify(answer)}`);
  return answer;
}

function at({ raster }: ReadFile, x: number, y: number): number[] {
  const px = Math.floor(y * raster.height) * raster.width + Math.floor(x * raster.width);
  return [...raster.data.subarray(4 * px, 4 * px + 4)];
}

/** 100 x 50 mm in points of 1/72 inch. */
const SHEET = { widthPt: (100 * 72) / 25.4, heightPt: (50 * 72) / 25.4 };
const block = (r: number, g: number, b: number): PdfPage => ({
  ...SHEET,
  content: `${r} ${g} ${b} rg 28.346 28.346 226.772 85.039 re f`,
});

describe('a PDF', () => {
  it('is read as its first page, transparent, with its size and the page count', async () => {
    const file = await read(writePdf([block(1, 0, 0), block(0, 1, 0)]));
    expect(file.source.kind).toBe('pdf');
    expect(file.source.naturalMm!.widthMm).toBeCloseTo(100, 6);
    expect(file.source.naturalMm!.heightMm).toBeCloseTo(50, 6);
    expect(file.source.notes).toEqual([{ code: 'first-page-only', pages: 2 }]);
    expect([file.raster.width, file.raster.height]).toEqual([4500, 2250]);
    expect(at(file, 0.5, 0.5)).toEqual([255, 0, 0, 255]);
    expect(at(file, 0.02, 0.02)).toEqual([0, 0, 0, 0]);
    // 10 mm margins: 450 px of 4500.
    const ink = inkBoxOf(file.raster)!;
    expect(Math.abs(ink.left - 450)).toBeLessThanOrEqual(1);
    expect(Math.abs(ink.width - 3600)).toBeLessThanOrEqual(2);
    expect(Math.abs(ink.height - 1350)).toBeLessThanOrEqual(2);
  });

  it('is rotated as its page says', async () => {
    const file = await read(writePdf([{ ...block(1, 0, 0), entries: '/Resources << >> /Rotate 90' }]));
    expect(file.source.naturalMm!.widthMm).toBeCloseTo(50, 6);
    expect([file.raster.width, file.raster.height]).toEqual([2250, 4500]);
  });

  it('keeps partial transparency', async () => {
    const file = await read(
      writePdf([
        {
          ...SHEET,
          content: '/G gs 0 0 1 rg 28 28 226 85 re f',
          entries: '/Resources << /ExtGState << /G << /ca 0.5 >> >> >>',
        },
      ]),
    );
    const [r, g, b, a] = at(file, 0.5, 0.5);
    expect([r, g, b]).toEqual([0, 0, 255]);
    expect(Math.abs(a! - 128)).toBeLessThanOrEqual(1);
  });

  it.each(['Helvetica', 'Marker-Wide'])('names %s, which it does not bring along', async (name) => {
    const file = await read(
      writePdf([
        {
          ...SHEET,
          content: 'BT /F 40 Tf 20 60 Td (TEAM) Tj ET',
          entries: `/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /${name} >> >> >>`,
        },
      ]),
    );
    expect(file.source.notes).toEqual([{ code: 'missing-font', fonts: [name] }]);
    expect(inkBoxOf(file.raster)!.width).toBeGreaterThan(800);
  });

  it('is refused if it is truncated, even if a reader could recover it', async () => {
    const whole = writePdf([block(1, 0, 0), block(0, 1, 0)]);
    for (const share of [0.4, 0.8, 0.98])
      expect(await readArtwork(whole.subarray(0, Math.floor(whole.length * share)))).toEqual({
        refused: 'incomplete-file',
        params: { kind: 'PDF' },
      });
  });

  it('is refused if it needs a password', async () => {
    const hex = (length: number) => `<${'5a'.repeat(length)}>`;
    const locked = writePdf(
      [block(1, 0, 0)],
      [`<< /Filter /Standard /V 1 /R 2 /O ${hex(32)} /U ${hex(32)} /P -44 >>`],
      `/Encrypt ${firstExtra(1)} 0 R /ID [${hex(16)} ${hex(16)}]`,
    );
    expect(await readArtwork(locked)).toEqual({ refused: 'locked-file', params: { kind: 'PDF' } });
  });

  it.each([
    ['it has no page', writePdf([])],
    ['its page has no size', writePdf([{ widthPt: 0, heightPt: 0, content: '' }])],
    ['it is only a name', Buffer.from('%PDF-1.4\nnothing else\n%%EOF\n')],
  ])('is refused, or drawn on a default sheet, when %s', async (_, bytes) => {
    const answer = await readArtwork(bytes);
    if (isRefusal(answer)) expect(answer).toEqual({ refused: 'damaged-file', params: { kind: 'PDF' } });
    else expect(inkBoxOf(answer.raster)).toBeUndefined();
  });

  it('never runs its scripts', async () => {
    const before = Object.keys(globalThis).length;
    const open = `<< /S /JavaScript /JS (globalThis.ran = true; app.alert(1);) >>`;
    const file = await read(
      writePdf(
        [{ ...block(1, 0, 0), entries: `/Resources << >> /AA << /O ${firstExtra(1)} 0 R >>` }],
        [open, pdfStream('')],
      ),
    );
    expect(at(file, 0.5, 0.5)).toEqual([255, 0, 0, 255]);
    expect('ran' in globalThis).toBe(false);
    expect(Object.keys(globalThis).length).toBeGreaterThanOrEqual(before);
  });
});
