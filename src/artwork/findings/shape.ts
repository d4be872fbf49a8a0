import type { Finding } from '../../contract/facts.ts';
import { tenth } from '../../figures.ts';
import { finding, forAllMethods, type PlacedArtwork } from './finding.ts';

/** An ink box under this share of the canvas leaves it mostly empty. */
const EMPTY_SHARE = 0.05;
/** Sides further apart than this are an extreme shape. */
const MAX_ASPECT = 20;

/** A canvas much larger than what is drawn on it. */
export function mostlyEmpty({ facts, methods, inkBox }: PlacedArtwork): Finding | null {
  const share = (inkBox.width * inkBox.height) / (facts.widthPx * facts.heightPx);
  if (share >= EMPTY_SHARE) return null;
  return finding(
    'mostly-empty',
    forAllMethods(methods, 'note'),
    inkBox,
    { share: Number(share.toPrecision(3)) },
    [{ kind: 'trim' }],
  );
}

/** Something very long and narrow. */
export function extremeShape({ methods, inkBox }: PlacedArtwork): Finding | null {
  const ratio = Math.max(inkBox.width / inkBox.height, inkBox.height / inkBox.width);
  if (ratio <= MAX_ASPECT) return null;
  return finding('extreme-shape', forAllMethods(methods, 'note'), inkBox, { ratio: tenth(ratio) }, []);
}
