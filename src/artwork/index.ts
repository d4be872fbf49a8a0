/** Measures artwork, finds its problems for a print, fixes them, and simulates the print. Pure functions on rasters. */
export { ciede2000 } from './color/ciede2000.ts';
export { OUT_OF_GAMUT_DELTA_E, type PrintedColor, printedColor } from './color/gamut.ts';
export { hexOfRgb, type Rgb, rgbOfHex } from './color/hex.ts';
export { type Lab, labOfHex, labOfRgb, rgbOfLab, type White } from './color/lab.ts';
export { combine, type Inks, separate, whiteFor } from './color/separation.ts';
export {
  type Channels,
  type Coverage,
  type CoverageOptions,
  coverageOn,
  SAME_AS_CLOTH_DELTA_E,
  VANISHING_DELTA_E,
  vanishingEdgeShare,
  vanishingShare,
} from './coverage.ts';
export { FACTS_VERSION, measureArtwork } from './facts.ts';
export { type FindingInput, findFindings } from './findings.ts';
export type { ArtworkLimits } from './limits.ts';
export { type ProofMethod, simulatePrint } from './proof.ts';
export { buildPyramid, MAX_BITMAP_SIDE_PX, type Pyramid, previewOf } from './pyramid.ts';
export { assertRaster, type Raster, rasterFault } from './raster.ts';
export { applyRemedies, applyRemedy } from './remedies/apply.ts';
export { crop, inkBoxOf } from './remedies/trim.ts';
export { dotScreen, type Screen } from './screen.ts';
