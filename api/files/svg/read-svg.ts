import type { Raster } from '../../../src/artwork/index.ts';
import type { SourceInfo, SourceNote } from '../../../src/contract/index.ts';
import { pixelsFor } from '../drawing-resolution.ts';
import type { ReadLimits } from '../limits.ts';
import { type FileRefusal, isRefusal } from '../refusal.ts';
import { resolutionFor } from './affordable-resolution.ts';
import { createCascade } from './cascade.ts';
import { clampFilters } from './clamp-filters.ts';
import { costOf } from './drawing-cost.ts';
import { missingFonts } from './drawing-fonts.ts';
import { sizeOf } from './drawing-size.ts';
import { replaceEmbeddedPictures } from './embedded-pictures.ts';
import { findExtent } from './find-extent.ts';
import { readDrawing } from './read-drawing.ts';
import { renderDrawing } from './render-drawing.ts';

export type ReadSvg = {
  readonly raster: Raster;
  readonly notes: readonly SourceNote[];
  readonly naturalMm: SourceInfo['naturalMm'];
};

/** Cleans an SVG, bounds its cost, and draws it at the highest useful resolution. */
export async function readSvg(bytes: Uint8Array, limits: ReadLimits): Promise<ReadSvg | FileRefusal> {
  const text = decodeXml(bytes);
  if (text === null) return { refused: 'damaged-file', params: { kind: 'SVG' } };
  const drawing = readDrawing(text);
  if (isRefusal(drawing)) return drawing;
  const { root, dropped } = drawing;
  const cascade = createCascade(drawing.rules);
  const cost = costOf(root, cascade);
  if (isRefusal(cost)) return cost;
  clampFilters(root);
  const pictures = await replaceEmbeddedPictures(root, limits);
  if (isRefusal(pictures)) return pictures;

  const fonts = missingFonts(root, cascade);
  const size = sizeOf(root, cascade);
  try {
    const view = size.viewBox ?? (await findExtent(root));
    if (view === null) return { refused: 'nothing-to-print', params: {} };
    const aspect = size.viewBox === null ? view.width / view.height : size.aspect;
    const resolution = resolutionFor(cost, aspect);
    if (isRefusal(resolution)) return resolution;
    const { widthPx, heightPx } = pixelsFor(aspect, resolution);
    const raster = await renderDrawing(root, view, widthPx, heightPx, size.preserveAspectRatio);

    const notes: SourceNote[] = [];
    if (size.viewBox === null) notes.push({ code: 'no-size-in-file' });
    if (fonts.length > 0) notes.push({ code: 'missing-font', fonts: [...fonts] });
    const external = dropped.external + pictures.removed;
    if (external > 0) notes.push({ code: 'external-reference-dropped', count: external });
    if (dropped.active > 0) notes.push({ code: 'active-content-dropped', count: dropped.active });
    return { raster, notes, naturalMm: size.naturalMm };
  } catch {
    // The renderer's message may quote the file; it is never passed on.
    return { refused: 'damaged-file', params: { kind: 'SVG' } };
  }
}

/** XML is UTF-8 unless a byte order mark or its declaration says otherwise (XML 1.0, 4.3.3). Null if it cannot be decoded. */
function decodeXml(bytes: Uint8Array): string | null {
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 200));
  const declared = /^(?:\u00ef\u00bb\u00bf)?<\?xml[^>]*\sencoding\s*=\s*["']([A-Za-z0-9._-]+)["']/.exec(
    head,
  )?.[1];
  const mark =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : null;
  try {
    return new TextDecoder(mark ?? declared ?? 'utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
