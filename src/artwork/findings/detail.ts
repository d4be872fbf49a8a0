import type { Finding, SourceInfo } from '../../contract/facts.ts';
import { hundredth, tenth } from '../../figures.ts';
import { finding, type PlacedArtwork, type SeverityByMethod } from './finding.ts';

const MM_PER_INCH = 25.4;

/** Effective dpi from the pixels of the ink and the printed size. Vector drawings have any resolution. */
export function tooFewPixels({
  source,
  methods,
  inkBox,
  mmPerPx,
  placedWidthMm,
}: PlacedArtwork): Finding | undefined {
  if (source !== undefined && isDrawing(source)) return undefined;
  const dpi = MM_PER_INCH / mmPerPx;
  const severity: SeverityByMethod = {};
  let goodDpi = 0;
  let leastDpi = 0;
  for (const method of methods) {
    // The rounded figure decides, since it is the one that is shown.
    if (Math.round(dpi) < method.leastDpi) severity[method.id] = 'stops';
    else if (Math.round(dpi) < method.goodDpi) severity[method.id] = 'warning';
    else continue;
    goodDpi = Math.max(goodDpi, method.goodDpi);
    leastDpi = Math.max(leastDpi, method.leastDpi);
  }
  if (goodDpi === 0) return undefined;
  return finding(
    'too-few-pixels',
    severity,
    inkBox,
    {
      dpi: Math.round(dpi),
      leastDpi,
      goodDpi,
      widthMm: tenth(placedWidthMm),
      goodWidthMm: Math.floor((10 * inkBox.width * MM_PER_INCH) / goodDpi) / 10,
      widthPx: inkBox.width,
      neededWidthPx: Math.ceil((placedWidthMm * goodDpi) / MM_PER_INCH),
    },
    [],
  );
}

function isDrawing(source: SourceInfo): boolean {
  return source.kind === 'svg' || source.kind === 'pdf';
}

/** Strokes that are thinner in print than a method can hold. */
export function thinLines({
  facts,
  methods,
  inkBox,
  mmPerPx,
  placedWidthMm,
}: PlacedArtwork): Finding | undefined {
  const thinnest = facts.thinLines[0];
  if (thinnest === undefined) return undefined;
  const lineMm = thinnest.px * mmPerPx;
  const severity: SeverityByMethod = {};
  let leastMm = 0;
  for (const method of methods) {
    if (lineMm >= method.thinnestLineMm) continue;
    severity[method.id] = 'stops';
    leastMm = Math.max(leastMm, method.thinnestLineMm);
  }
  if (leastMm === 0) return undefined;
  const tooThin = facts.thinLines.filter((line) => line.px * mmPerPx < leastMm);
  // Thickening widens the ink box at both sides, so at the same printed width every pixel becomes a little smaller.
  const toPx = Math.ceil((10 * leastMm * inkBox.width) / Math.max(leastMm, placedWidthMm - leastMm)) / 10;
  return finding(
    'thin-lines',
    severity,
    thinnest.box,
    {
      lineMm: hundredth(lineMm),
      leastMm,
      places: tooThin.length,
      goodWidthMm: Math.ceil((10 * placedWidthMm * leastMm) / lineMm) / 10,
    },
    toPx >= 1 && toPx <= 200 ? [{ kind: 'thicken', toPx }] : [],
  );
}

/** Gaps that are thinner in print than a method can keep open. */
export function thinGaps({ facts, methods, mmPerPx, placedWidthMm }: PlacedArtwork): Finding | undefined {
  const thinnest = facts.thinGaps[0];
  if (thinnest === undefined) return undefined;
  const gapMm = thinnest.px * mmPerPx;
  const severity: SeverityByMethod = {};
  let leastMm = 0;
  for (const method of methods) {
    if (gapMm >= method.thinnestGapMm) continue;
    severity[method.id] = 'stops';
    leastMm = Math.max(leastMm, method.thinnestGapMm);
  }
  if (leastMm === 0) return undefined;
  return finding(
    'thin-gaps',
    severity,
    thinnest.box,
    {
      gapMm: hundredth(gapMm),
      leastMm,
      places: facts.thinGaps.filter((gap) => gap.px * mmPerPx < leastMm).length,
      goodWidthMm: Math.ceil((10 * placedWidthMm * leastMm) / gapMm) / 10,
    },
    [],
  );
}
