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
import { findStrokes, type Strokes } from './measure/strokes.ts';
import { assertRaster, type Raster } from './raster.ts';

/** Version of the measuring code; raised whenever an answer may differ. */
export const FACTS_VERSION = 1;

/**
 * Measures what is true of a picture whatever it is printed on and at whatever size. Every pixel is looked at, at full
 * resolution; the color of clear pixels never matters.
 *
 * Takes, beside the raster, 2 bytes for each pixel of the ink box, 3 where its edge has but one color, a sixth of a byte
 * for each pixel more, and about 3 MB of tables.
 *
 * @throws RangeError when the raster's bytes do not fit its width and height.
 */
export function measureArtwork(raster: Raster): ArtworkFacts {
  assertRaster(raster);
  const { width, height } = raster;
  const census = collectPixelStats(raster);
  const pixels = width * height;
  const facts = {
    version: FACTS_VERSION,
    widthPx: width,
    heightPx: height,
    inkBox: census.inkBox,
    opaqueShare: census.opaque / pixels,
    softShare: census.soft / pixels,
    clearShare: census.clear / pixels,
  };
  const { inkBox } = census;
  if (inkBox === null)
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

  const grouping = groupColors(census.bins);
  const deepSoft = census.soft === 0 ? { count: 0, box: null } : countDeepSoft(raster, census.tiles);
  // One stretch of memory serves what is needed one after the other.
  const memory = new ArrayBuffer(columnDistanceBytes(inkBox));
  const background = findBackground(raster, inkBox, memory);
  const whole = measureShape(alphaPlane(raster, inkBox, census.tiles), memory);
  const motif = background === null ? null : measureShape(background.motif, memory);
  const strokes = motif === null ? whole : shifted(motif, inkBox.left, inkBox.top);

  return {
    ...facts,
    deepSoftShare: deepSoft.count / (census.opaque + census.soft),
    deepSoftBox: deepSoft.box,
    colors: grouping.groups,
    inkColorCount: countInkColors(raster, inkBox),
    thinLines: strokes.lines,
    thinGaps: strokes.gaps,
    largestSolid: whole.solid,
    background:
      background === null
        ? null
        : {
            hex: background.hex,
            share: background.pixels / pixels,
            motifBox: background.motifBox,
            motifSolid: motif === null ? null : shifted(motif, inkBox.left, inkBox.top).solid,
          },
    ...measureEdges(raster, inkBox),
    outOfGamut: findOutOfGamut(raster, inkBox, grouping),
  };
}

type Shape = Strokes & { readonly solid: Disc | null };

function measureShape(plane: InkPlane, memory: ArrayBuffer): Shape {
  const columns = upwardDistances(plane, memory);
  const { lines, gaps } = findStrokes(plane, columns);
  return { lines, gaps, solid: largestDisc(plane, columns) };
}

function shifted(shape: Shape, dx: number, dy: number): Shape {
  const move = (strokes: Shape['lines']): Shape['lines'] =>
    strokes.map(({ px, box }) => ({ px, box: { ...box, left: box.left + dx, top: box.top + dy } }));
  const { solid } = shape;
  return {
    lines: move(shape.lines),
    gaps: move(shape.gaps),
    solid: solid === null ? null : { ...solid, xPx: solid.xPx + dx, yPx: solid.yPx + dy },
  };
}
