import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import type { Canvas } from '@napi-rs/canvas';
import type { Raster } from '../../../src/artwork/index.ts';
import type { SourceInfo, SourceNote } from '../../../src/contract/index.ts';
import { pixelsFor } from '../drawing-resolution.ts';
import type { FileRefusal } from '../refusal.ts';

/** PDF's own unit (ISO 32000-1, 8.3.2.3). */
const MM_PER_POINT = 25.4 / 72;

/** Where the renderer's own tables, fonts and decoders lie in its package. */
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

/** Rows copied at once; a copy of the whole would be held three times over. */
const STRIP_ROWS = 256;

/** The pixels of a canvas, straight alpha; the canvas is empty afterwards. */
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

/** The end mark is in the last bytes of every whole file (ISO 32000-1, 7.5.5; some programs write a little after it). */
function hasEnd(bytes: Uint8Array): boolean {
  const last = bytes.subarray(-2048);
  return Buffer.from(last.buffer, last.byteOffset, last.length).includes('%%EOF');
}

const MAX_FONTS_NAMED = 50;

/**
 * Fonts the page asks for that the file does not bring along: another face was drawn in their place. The renderer says so
 * of all but those every reader must know (Helvetica, Times, Courier and their like), which it takes from its own; those
 * are told by their names, since a font brought along has six letters and a plus before its name (ISO 32000-1, 9.6.4).
 */
function missingFonts(commonObjects: unknown, standInsUsed: boolean): readonly string[] {
  const names = new Set<string>();
  for (const [, found] of commonObjects as Iterable<readonly [string, unknown]>) {
    const font = found as { readonly missingFile?: unknown; readonly name?: unknown } | null;
    if (typeof font?.name !== 'string') continue;
    const broughtAlong = /^[A-Z]{6}\+/.test(font.name);
    if (font.missingFile === true || (standInsUsed && !broughtAlong)) names.add(font.name.slice(0, 200));
  }
  return [...names].slice(0, MAX_FONTS_NAMED);
}

/** Loads what draws PDF, once; a process that is going to needs the time before a file waits for it. */
export async function loadPdfRenderer() {
  const [{ getDocument, VerbosityLevel }, { createCanvas }] = await Promise.all([
    import('pdfjs-dist/legacy/build/pdf.mjs'),
    import('@napi-rs/canvas'),
    // Makes itself known globally; otherwise it is loaded while the first file waits.
    // @ts-expect-error It comes without types, and nothing of it is used here.
    import('pdfjs-dist/legacy/build/pdf.worker.mjs'),
  ]);
  return { getDocument, VerbosityLevel, createCanvas };
}

/**
 * Draws the first page of a PDF on clear ground, as finely as printing can use. Its scripts are never run, nothing it
 * names is fetched, and a file that needs a password is refused.
 */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf | FileRefusal> {
  if (!hasEnd(bytes)) return { refused: 'incomplete-file', params: { kind: 'PDF' } };
  const { getDocument, VerbosityLevel, createCanvas } = await loadPdfRenderer();
  const home = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  const used = { standIns: false };
  class OwnFiles {
    fetch({ kind, filename }: { readonly kind: string; readonly filename: string }): Promise<Uint8Array> {
      if (kind === 'standardFontDataUrl') used.standIns = true;
      // A name may come from the file; it must not lead anywhere else.
      return readFile(join(home, FOLDERS[kind] ?? 'cmaps', basename(filename)));
    }
  }
  const loading = getDocument({
    // The renderer takes the buffer for itself.
    data: new Uint8Array(bytes),
    verbosity: VerbosityLevel.ERRORS,
    isEvalSupported: false,
    enableXfa: false,
    useSystemFonts: false,
    disableFontFace: true,
    stopAtErrors: false,
    BinaryDataFactory: OwnFiles,
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
      // Declared for a page; in Node the renderer paints on this one. Given the canvas alone, it would have it opaque.
      canvas: null,
      canvasContext: canvas.getContext('2d') as never,
      viewport,
      intent: 'print',
      background: 'rgba(0,0,0,0)',
    }).promise;
    const notes: SourceNote[] = [];
    if (document.numPages > 1) notes.push({ code: 'first-page-only', pages: document.numPages });
    const fonts = missingFonts(page.commonObjs, used.standIns);
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
