import type { Finding } from '../../contract/facts.ts';
import { tenth } from '../../figures.ts';
import { finding, forAll, type Seen } from './seen.ts';

/** An ink box under this share of the canvas leaves it mostly empty. */
const EMPTY_SHARE = 0.05;
/** Sides further apart than this are an extreme shape. */
const ASPECT_MOST = 20;

/** A canvas much larger than what is drawn on it. */
export function mostlyEmpty({ facts, methods, inkBox }: Seen): Finding | null {
  const share = (inkBox.width * inkBox.height) / (facts.widthPx * facts.heightPx);
  if (share >= EMPTY_SHARE) return null;
  return finding('mostly-empty', forAll(methods, 'note'), inkBox, { share: Number(share.toPrecision(3)) }, [
    { kind: 'trim' },
  ]);
}

/** Something very long and narrow. */
export function extremeShape({ methods, inkBox }: Seen): Finding | null {
  const ratio = Math.max(inkBox.width / inkBox.height, inkBox.height / inkBox.width);
  if (ratio <= ASPECT_MOST) return null;
  return finding('extreme-shape', forAll(methods, 'note'), inkBox, { ratio: tenth(ratio) }, []);
}
