import type { ArtworkFacts, PixelBox } from '../../contract/facts.ts';
import type { Raster } from '../raster.ts';
import { EdgeColors } from './edge-colors.ts';
import { LightRim } from './light-rim.ts';

/** Pixels with less alpha are invisible. */
const MIN_VISIBLE_ALPHA = 32;
/** About how many rows of a tall picture are read: edges continue from row to row. */
const SAMPLED_ROWS = 800;

/** Measures rim and edge colors at every place where visible ink begins or ends along a row. */
export function measureEdges(
  raster: Raster,
  inkBox: PixelBox,
): Pick<ArtworkFacts, 'lightRim' | 'edgeColors'> {
  const { width, data } = raster;
  const rim = new LightRim(raster);
  const colors = new EdgeColors(raster);
  const to = inkBox.left + inkBox.width;
  const step = Math.max(1, Math.floor(inkBox.height / SAMPLED_ROWS));
  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y += step) {
    const alpha = 4 * y * width + 3;
    for (let x = inkBox.left; x < to; ) {
      while (x < to && data[alpha + 4 * x]! < MIN_VISIBLE_ALPHA) x++;
      const start = x;
      while (x < to && data[alpha + 4 * x]! >= MIN_VISIBLE_ALPHA) x++;
      const run = x - start;
      if (run === 0) continue;
      rim.add(start, y, 1, run);
      rim.add(x - 1, y, -1, run);
      colors.add(start, y, 1, run);
      colors.add(x - 1, y, -1, run);
    }
  }
  return { lightRim: rim.result(), edgeColors: colors.result() };
}
