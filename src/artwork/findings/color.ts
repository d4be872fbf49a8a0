import type { Finding, Remedy } from '../../contract/facts.ts';
import { thousandth } from '../../figures.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { labOfHex } from '../color/lab.ts';
import { VANISHING_DELTA_E, vanishingEdgeShare, vanishingShare } from '../coverage.ts';
import { clampTenth, finding, forAllMethods, type PlacedArtwork } from './finding.ts';

/** Share of the ink that vanishes: worth a note, worth a warning. */
const VANISHES_NOTE = 0.1;
const VANISHES_WARNING = 0.5;
/** Share of the ink out of gamut: worth a note, worth a warning. Less is the noise of JPEG. */
const GAMUT_NOTE = 0.005;
const GAMUT_WARNING = 0.02;
/** Outline offered where ink vanishes, mm. */
const OUTLINE_MM = 1;

/** A flat box around the motif: seen on cloth of another color, no more than a note on its own. */
export function backgroundBox({ facts, methods, clothHex, inkBox }: PlacedArtwork): Finding | null {
  const { background } = facts;
  if (background === null) return null;
  const seen = ciede2000(labOfHex(background.hex), labOfHex(clothHex)) >= VANISHING_DELTA_E;
  return finding(
    'background-box',
    forAllMethods(methods, seen ? 'warning' : 'note'),
    inkBox,
    { hex: background.hex, share: thousandth(background.share), clothHex },
    [{ kind: 'remove-background', hex: background.hex, tolerance: 8, enclosed: false }],
  );
}

/** Ink of the color of the cloth. */
export function vanishes({ facts, methods, clothHex, inkBox, mmPerPx }: PlacedArtwork): Finding | null {
  const share = vanishingShare(facts, clothHex);
  if (share < VANISHES_NOTE) return null;
  // Whose edge shows is seen by its edge: an outline answers the finding, all but for a note.
  const edgeShare = facts.background === null ? vanishingEdgeShare(facts, clothHex) : 1;
  const hidden = share >= VANISHES_WARNING && edgeShare >= VANISHES_WARNING;
  const contrast = labOfHex(clothHex)[0] < 60 ? '#FFFFFF' : '#000000';
  const remedies: Remedy[] = [
    { kind: 'outline', widthPx: clampTenth(OUTLINE_MM / mmPerPx, 1, 200), hex: contrast },
  ];
  if (facts.inkColorCount === 1 && facts.background === null)
    remedies.unshift({ kind: 'recolor', hex: contrast });
  return finding(
    'vanishes',
    forAllMethods(methods, hidden ? 'warning' : 'note'),
    inkBox,
    { share: thousandth(share), edgeShare: thousandth(edgeShare), clothHex },
    edgeShare >= VANISHES_NOTE ? remedies : [],
  );
}

/** A light rim left by cutting out, where the cloth shows it. */
export function lightRim({ facts, methods, clothHex }: PlacedArtwork): Finding | null {
  const rim = facts.lightRim;
  if (rim === null) return null;
  // On a cloth of its own color the rim is not seen.
  if (ciede2000(labOfHex(rim.hex), labOfHex(clothHex)) < VANISHING_DELTA_E) return null;
  return finding(
    'light-rim',
    forAllMethods(methods, 'warning'),
    rim.box,
    { share: thousandth(rim.share), hex: rim.hex },
    [{ kind: 'remove-background', hex: '#FFFFFF', tolerance: 16, enclosed: false }],
  );
}

/** Colors that process inks do not reach. */
export function outOfGamut({ facts, methods }: PlacedArtwork): Finding | null {
  const { share, colors, box } = facts.outOfGamut;
  if (share < GAMUT_NOTE || colors.length === 0) return null;
  return finding(
    'out-of-gamut',
    forAllMethods(methods, share >= GAMUT_WARNING ? 'warning' : 'note'),
    box,
    {
      share: thousandth(share),
      colors: colors.map((color) => color.hex),
      prints: colors.map((color) => color.prints),
    },
    [],
  );
}
