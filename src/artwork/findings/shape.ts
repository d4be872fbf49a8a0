import type { Finding } from '../../contract/facts.ts';
import { tenth } from '../../figures.ts';
import { finding, forAllMethods, type PlacedArtwork } from './finding.ts';

/** With a smaller share of the canvas in the ink box, it is mostly empty. */
const EMPTY_SHARE = 0.05;
/** A larger ratio of the sides is an extreme shape. */
const MAX_ASPECT = 20;

/** A canvas much larger than its ink. */
export function mostlyEmpty({ facts, methods, inkBox }: PlacedArtwork): Finding | undefined {
  const share = (inkBox.width * inkBox.height) / (facts.widthPx * facts.heightPx);
  if (share >= EMPTY_SHARE) return undefined;
  return finding(
    'mostly-empty',
    forAllMethods(methods, 'note'),
    inkBox,
    { share: Number(share.toPrecision(3)) },
    [{ kind: 'trim' }],
  );
}

/** An ink box that is very long and narrow. */
export function extremeShape({ methods, inkBox }: PlacedArtwork): Finding | undefined {
  const ratio = Math.max(inkBox.width / inkBox.height, inkBox.height / inkBox.width);
  if (ratio <= MAX_ASPECT) return undefined;
  return finding('extreme-shape', forAllMethods(methods, 'note'), inkBox, { ratio: tenth(ratio) }, []);
}
