import type { Finding } from '../../contract/facts.ts';
import { tenth, thousandth } from '../../figures.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { labOfHex } from '../color/lab.ts';
import { VANISHING_DELTA_E } from '../coverage.ts';
import { clampTenth, finding, type PlacedArtwork, type SeverityByMethod, screenCellPx } from './finding.ts';

/** Share of deep soft ink up to which nothing is reported. */
const SOFT_SHARE = 0.05;
/** Tint of a screened solid. */
const SCREEN_TINT = 0.7;

/** Shadows and fades that a method loses. */
export function softAlpha({ facts, methods, mmPerPx }: PlacedArtwork): Finding | undefined {
  const share = facts.deepSoftShare;
  const severity: SeverityByMethod = {};
  for (const method of methods) {
    if (method.softAlpha === 'prints') continue;
    if (method.softShareMost !== undefined && share > method.softShareMost) severity[method.id] = 'stops';
    else if (share > SOFT_SHARE) severity[method.id] = 'warning';
  }
  if (Object.keys(severity).length === 0) return undefined;
  return finding('soft-alpha', severity, facts.deepSoftBox, { share: thousandth(share) }, [
    { kind: 'screen-soft', cellPx: screenCellPx(mmPerPx), angleDeg: 45 },
    { kind: 'firm-up', threshold: 128 },
  ]);
}

/** Solids so large that the cloth does not breathe. */
export function largeSolid({
  facts,
  methods,
  clothHex,
  mmPerPx,
  breathes = true,
}: PlacedArtwork): Finding | undefined {
  if (!breathes) return undefined;
  const { background } = facts;
  // A background of the color of the cloth is not printed; only the motif is.
  const isUnprinted =
    background !== null && ciede2000(labOfHex(background.hex), labOfHex(clothHex)) < VANISHING_DELTA_E;
  const solid = isUnprinted ? background.motifSolid : facts.largestSolid;
  if (solid === null) return undefined;
  const diameterMm = solid.diameterPx * mmPerPx;
  const severity: SeverityByMethod = {};
  let mostMm = Number.POSITIVE_INFINITY;
  for (const method of methods) {
    if (method.largestSolidMm === undefined || diameterMm <= method.largestSolidMm) continue;
    severity[method.id] = 'warning';
    mostMm = Math.min(mostMm, method.largestSolidMm);
  }
  if (mostMm === Number.POSITIVE_INFINITY) return undefined;
  return finding(
    'large-solid',
    severity,
    {
      left: Math.max(0, Math.floor(solid.xPx - solid.diameterPx / 2)),
      top: Math.max(0, Math.floor(solid.yPx - solid.diameterPx / 2)),
      width: Math.ceil(solid.diameterPx),
      height: Math.ceil(solid.diameterPx),
    },
    { diameterMm: tenth(diameterMm), mostMm },
    [
      {
        kind: 'screen-solids',
        cellPx: screenCellPx(mmPerPx),
        tint: SCREEN_TINT,
        minDiameterPx: clampTenth(mostMm / mmPerPx, 1, 100_000),
        angleDeg: 45,
      },
    ],
  );
}
