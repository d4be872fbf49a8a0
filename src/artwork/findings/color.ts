import type { Finding, Remedy } from '../../contract/facts.ts';
import { thousandth } from '../../figures.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { labOfHex } from '../color/lab.ts';
import { VANISHING_DELTA_E, vanishingEdgeShare, vanishingShare } from '../coverage.ts';
import { clampTenth, finding, forAllMethods, type PlacedArtwork } from './finding.ts';

/** Share of the ink that vanishes: for a note, and for a warning. */
const VANISHES_NOTE = 0.1;
const VANISHES_WARNING = 0.5;
/** Share of the ink out of gamut: for a note, and for a warning. Less is JPEG noise. */
const GAMUT_NOTE = 0.005;
const GAMUT_WARNING = 0.02;
/** Width of the outline offered where ink vanishes, mm. */
const OUTLINE_MM = 1;

/** A flat background: a warning on cloth of another color, a note on cloth of its own color. */
export function backgroundBox({ facts, methods, clothHex, inkBox }: PlacedArtwork): Finding | undefined {
  const { background } = facts;
  if (background === null) return undefined;
  const isVisible = ciede2000(labOfHex(background.hex), labOfHex(clothHex)) >= VANISHING_DELTA_E;
  return finding(
    'background-box',
    forAllMethods(methods, isVisible ? 'warning' : 'note'),
    inkBox,
    { hex: background.hex, share: thousandth(background.share), clothHex },
    [{ kind: 'remove-background', hex: background.hex, tolerance: 8, enclosed: false }],
  );
}

/** Ink that has the color of the cloth. */
export function vanishes({ facts, methods, clothHex, inkBox, mmPerPx }: PlacedArtwork): Finding | undefined {
  const share = vanishingShare(facts, clothHex);
  if (share < VANISHES_NOTE) return undefined;
  // A shape with a visible edge is visible: an outline fixes the finding, which stays only as a note.
  const edgeShare = facts.background === null ? vanishingEdgeShare(facts, clothHex) : 1;
  const isHidden = share >= VANISHES_WARNING && edgeShare >= VANISHES_WARNING;
  const contrast = labOfHex(clothHex)[0] < 60 ? '#FFFFFF' : '#000000';
  const remedies: Remedy[] = [
    { kind: 'outline', widthPx: clampTenth(OUTLINE_MM / mmPerPx, 1, 200), hex: contrast },
  ];
  if (facts.inkColorCount === 1 && facts.background === null)
    remedies.unshift({ kind: 'recolor', hex: contrast });
  return finding(
    'vanishes',
    forAllMethods(methods, isHidden ? 'warning' : 'note'),
    inkBox,
    { share: thousandth(share), edgeShare: thousandth(edgeShare), clothHex },
    edgeShare >= VANISHES_NOTE ? remedies : [],
  );
}

/** A light rim left by cutting out, on a cloth where it is visible. */
export function lightRim({ facts, methods, clothHex }: PlacedArtwork): Finding | undefined {
  const rim = facts.lightRim;
  if (rim === null) return undefined;
  // The rim is invisible on a cloth of its own color.
  if (ciede2000(labOfHex(rim.hex), labOfHex(clothHex)) < VANISHING_DELTA_E) return undefined;
  return finding(
    'light-rim',
    forAllMethods(methods, 'warning'),
    rim.box,
    { share: thousandth(rim.share), hex: rim.hex },
    [{ kind: 'remove-background', hex: '#FFFFFF', tolerance: 16, enclosed: false }],
  );
}

/** Colors that process inks cannot reproduce. */
export function outOfGamut({ facts, methods }: PlacedArtwork): Finding | undefined {
  const { share, colors, box } = facts.outOfGamut;
  if (share < GAMUT_NOTE || colors.length === 0) return undefined;
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
