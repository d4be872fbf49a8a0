import type { ArtworkFacts } from '../contract/facts.ts';
import { findBackground } from './measure/background.ts';
import { countInkColors } from './measure/color-count.ts';
import { groupColors } from './measure/color-groups.ts';
import { columnDistanceBytes, upwardDistances } from './measure/column-distances.ts';
import { measureEdges } from './measure/edges.ts';
import { type Disc, largestDisc } from './measure/largest-disc.ts';
import { findOutOfGamut } from './measure/out-of-gamut.ts';
import { collectPixelStats } from './measure/pixel-stats.ts';
import { alphaPlane, type InkPlane } from './measure/plane.ts';
import { countDeepSoft } from './measure/soft-alpha.ts';
import { findStrokes, type Strokes } from './measure/strokes/strokes.ts';
import { assertRaster, type Raster } from './raster.ts';

/** Version of the measuring code; raised whenever a result may differ. */
export const FACTS_VERSION = 1;

/**
 * Measures what is true of a picture regardless of the cloth and the printed size. Every pixel is read at full
 * resolution; the color of clear pixels never matters.
 *
 * Each file in `measure/` makes one measurement, or holds what several of them read (tiles, planes, column distances).
 * Their order here saves work: the pixel statistics say where later passes need not look.
 *
 * Memory besides the raster: 2 bytes for each pixel of the ink box, 3 where its border has one color, a sixth of a byte
 * for each further pixel, and about 3 MB of tables.
 *
 * @throws RangeError when the raster's data does not match its width and height.
 */
export function measureArtwork(raster: Raster): ArtworkFacts {
  assertRaster(raster);
  const { width, height } = raster;
  const stats = collectPixelStats(raster);
  const pixels = width * height;
  const facts = {
    version: FACTS_VERSION,
    widthPx: width,
    heightPx: height,
    inkBox: stats.inkBox ?? null,
    opaqueShare: stats.opaque / pixels,
    softShare: stats.soft / pixels,
    clearShare: stats.clear / pixels,
  };
  const { inkBox } = stats;
  if (inkBox === undefined)
    return {
      ...facts,
      deepSoftShare: 0,
      deepSoftBox: null,
      colors: [],
      inkColorCount: 0,
      thinLines: [],
      thinGaps: [],
      largestSolid: null,
      background: null,
      lightRim: null,
      edgeColors: [],
      outOfGamut: { share: 0, colors: [], box: null },
    };

  const grouping = groupColors(stats.bins);
  const deepSoft = stats.soft === 0 ? undefined : countDeepSoft(raster, stats.tiles);
  // One buffer serves several passes in turn.
  const memory = new ArrayBuffer(columnDistanceBytes(inkBox));
  const background = findBackground(raster, inkBox, memory);
  const whole = measureShape(alphaPlane(raster, inkBox, stats.tiles), memory);
  const motif = background && translated(measureShape(background.motif, memory), inkBox.left, inkBox.top);
  const { lines, gaps } = motif ?? whole;

  return {
    ...facts,
    deepSoftShare: (deepSoft?.count ?? 0) / (stats.opaque + stats.soft),
    deepSoftBox: deepSoft?.box ?? null,
    colors: grouping.groups,
    inkColorCount: countInkColors(raster, inkBox) ?? null,
    thinLines: lines,
    thinGaps: gaps,
    largestSolid: whole.solid ?? null,
    background: background
      ? {
          hex: background.hex,
          share: background.pixels / pixels,
          motifBox: background.motifBox,
          motifSolid: motif?.solid ?? null,
        }
      : null,
    ...measureEdges(raster, inkBox),
    outOfGamut: findOutOfGamut(raster, inkBox, grouping),
  };
}

type Shape = Strokes & { readonly solid: Disc | undefined };

function measureShape(plane: InkPlane, memory: ArrayBuffer): Shape {
  const columns = upwardDistances(plane, memory);
  const { lines, gaps } = findStrokes(plane, columns);
  return { lines, gaps, solid: largestDisc(plane, columns) };
}

function translated(shape: Shape, dx: number, dy: number): Shape {
  const translate = (strokes: Shape['lines']): Shape['lines'] =>
    strokes.map(({ px, box }) => ({ px, box: { ...box, left: box.left + dx, top: box.top + dy } }));
  const { solid } = shape;
  return {
    lines: translate(shape.lines),
    gaps: translate(shape.gaps),
    solid: solid && { ...solid, xPx: solid.xPx + dx, yPx: solid.yPx + dy },
  };
}
