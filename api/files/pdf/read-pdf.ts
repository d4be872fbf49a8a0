import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import type { Canvas } from '@napi-rs/canvas';
import type { Raster } from '../../../src/artwork/index.ts';
import type { SourceInfo, SourceNote } from '../../../src/contract/index.ts';
import { pixelsFor } from '../drawing-resolution.ts';
import type { FileRefusal } from '../refusal.ts';

/** PDF's unit of length (ISO 32000-1, 8.3.2.3). */
const MM_PER_POINT = 25.4 / 72;

/** Folders of the renderer's package with its tables, fonts and decoders. */
const FOLDERS: Readonly<Record<string, string>> = {
  cMapUrl: 'cmaps',
  standardFontDataUrl: 'standard_fonts',
  wasmUrl: 'wasm',
};

export type ReadPdf = {
  readonly raster: Raster;
  readonly notes: readonly SourceNote[];
  readonly naturalMm: SourceInfo['naturalMm'];
};

/** Rows copied at once, so that the whole picture is not held three times. */
const STRIP_ROWS = 256;

/** The pixels of a canvas, straight alpha. Empties the canvas. */
function takePixels(canvas: Canvas): Uint8Array {
  const { width, height } = canvas;
  const context = canvas.getContext('2d');
  const data = new Uint8Array(4 * width * height);
  for (let top = 0; top < height; top += STRIP_ROWS) {
    const rows = Math.min(STRIP_ROWS, height - top);
    data.set(context.getImageData(0, top, width, rows).data, 4 * top * width);
  }
  canvas.width = 0;
  canvas.height = 0;
  return data;
}

/** True if the end marker is in the last bytes (ISO 32000-1, 7.5.5; some programs write a little after it). */
function hasEnd(bytes: Uint8Array): boolean {
  const last = bytes.subarray(-2048);
  return Buffer.from(last.buffer, last.byteOffset, last.length).includes('%%EOF');
}

const MAX_FONTS_NAMED = 50;

/**
 * Fonts of the page that are not embedded, so that another was drawn instead. The renderer reports them, except the standard
 * ones (Helvetica, Times, Courier and so on), for which it has substitutes of its own. Those are recognized by name: an
 * embedded subset has six letters and a plus before its name (ISO 32000-1, 9.6.4).
 */
function missingFonts(commonObjects: unknown, substitutesUsed: boolean): readonly string[] {
  const names = new Set<string>();
  for (const [, found] of commonObjects as Iterable<readonly [string, unknown]>) {
    const font = found as { readonly missingFile?: unknown; readonly name?: unknown } | null;
    if (typeof font?.name !== 'string') continue;
    const embedded = /^[A-Z]{6}\+/.test(font.name);
    if (font.missingFile === true || (substitutesUsed && !embedded)) names.add(font.name.slice(0, 200));
  }
  return [...names].slice(0, MAX_FONTS_NAMED);
}

/** Loads the PDF renderer. Processes do so before the first file arrives. */
export async function loadPdfRenderer() {
  const [{ getDocument, VerbosityLevel }, { createCanvas }] = await Promise.all([
    import('pdfjs-dist/legacy/build/pdf.mjs'),
    import('@napi-rs/canvas'),
    // Registers itself globally; otherwise it would be loaded with the first file.
    // @ts-expect-error It has no types, and we use no exports of it.
    import('pdfjs-dist/legacy/build/pdf.worker.mjs'),
  ]);
  return { getDocument, VerbosityLevel, createCanvas };
}

/**
 * Draws the first page of a PDF on a transparent background, at the highest useful resolution. Scripts are not run, nothing
 * is fetched, and a file that needs a password is refused.
 */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf | FileRefusal> {
  if (!hasEnd(bytes)) return { refused: 'incomplete-file', params: { kind: 'PDF' } };
  const { getDocument, VerbosityLevel, createCanvas } = await loadPdfRenderer();
  const home = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  const used = { substitutes: false };
  class PackageFiles {
    fetch({ kind, filename }: { readonly kind: string; readonly filename: string }): Promise<Uint8Array> {
      if (kind === 'standardFontDataUrl') used.substitutes = true;
      // The name may come from the file: allow no path.
      return readFile(join(home, FOLDERS[kind] ?? 'cmaps', basename(filename)));
    }
  }
  const loading = getDocument({
    // The renderer takes ownership of the buffer.
    data: new Uint8Array(bytes),
    verbosity: VerbosityLevel.ERRORS,
    isEvalSupported: false,
    enableXfa: false,
    useSystemFonts: false,
    disableFontFace: true,
    stopAtErrors: false,
    BinaryDataFactory: PackageFiles,
    useWorkerFetch: false,
    cMapUrl: 'cmaps/',
    standardFontDataUrl: 'standard_fonts/',
    wasmUrl: 'wasm/',
  });
  try {
    const document = await loading.promise;
    const page = await document.getPage(1);
    const unit = page.getViewport({ scale: 1 });
    if (!(unit.width > 0 && unit.height > 0)) return { refused: 'damaged-file', params: { kind: 'PDF' } };
    const { widthPx, heightPx } = pixelsFor(unit.width / unit.height);
    const viewport = page.getViewport({
      scale: Math.max(widthPx / unit.width, heightPx / unit.height),
    });
    const canvas = createCanvas(widthPx, heightPx);
    await page.render({
      // Given a canvas, the renderer would make it opaque; in Node it can paint on a context instead.
      canvas: null,
      canvasContext: canvas.getContext('2d') as never,
      viewport,
      intent: 'print',
      background: 'rgba(0,0,0,0)',
    }).promise;
    const notes: SourceNote[] = [];
    if (document.numPages > 1) notes.push({ code: 'first-page-only', pages: document.numPages });
    const fonts = missingFonts(page.commonObjs, used.substitutes);
    if (fonts.length > 0) notes.push({ code: 'missing-font', fonts: [...fonts] });
    const data = takePixels(canvas);
    return {
      raster: { width: widthPx, height: heightPx, data },
      notes,
      naturalMm: { widthMm: unit.width * MM_PER_POINT, heightMm: unit.height * MM_PER_POINT },
    };
  } catch (error) {
    const name = error instanceof Error ? error.name : '';
    const locked = name === 'PasswordException';
    return { refused: locked ? 'locked-file' : 'damaged-file', params: { kind: 'PDF' } };
  } finally {
    await loading.destroy();
  }
}
