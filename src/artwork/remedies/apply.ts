import type { Remedy } from '../../contract/facts.ts';
import { assertRaster, type Raster } from '../raster.ts';
import { firmUp } from './firm-up.ts';
import { outline } from './outline.ts';
import { recolor } from './recolor.ts';
import { removeBackground } from './remove-background.ts';
import { screenSoft } from './screen-soft.ts';
import { screenSolids } from './screen-solids.ts';
import { thicken } from './thicken.ts';
import { trim } from './trim.ts';

/** Applies one remedy. The raster is not changed; the result shares nothing with it. */
export function applyRemedy(raster: Raster, remedy: Remedy): Raster {
  assertRaster(raster);
  switch (remedy.kind) {
    case 'remove-background':
      return removeBackground(raster, remedy);
    case 'trim':
      return trim(raster);
    case 'firm-up':
      return firmUp(raster, remedy.threshold);
    case 'screen-soft':
      return screenSoft(raster, remedy.cellPx, remedy.angleDeg);
    case 'thicken':
      return thicken(raster, remedy.toPx);
    case 'outline':
      return outline(raster, remedy.widthPx, remedy.hex);
    case 'screen-solids':
      return screenSolids(raster, remedy);
    case 'recolor':
      return recolor(raster, remedy.hex);
  }
}

/** Applies remedies in order; with none, returns the raster itself. */
export function applyRemedies(raster: Raster, remedies: readonly Remedy[]): Raster {
  return remedies.reduce<Raster>(applyRemedy, raster);
}
