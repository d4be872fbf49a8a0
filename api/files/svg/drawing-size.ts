import type { Cascade } from './cascade.ts';
import type { DrawingNode } from './drawing-node.ts';
import { lengthPx, MM_PER_INCH, PX_PER_INCH, readViewBox, type ViewBox } from './lengths.ts';

/** The size that a drawing states. */
export type DrawingSize = {
  /** the visible part of its coordinates; null if the file does not say. */
  readonly viewBox: ViewBox | null;
  /** width over height of the visible part. */
  readonly aspect: number;
  /** the stated size; null if there is none, or it is in percent. */
  readonly naturalMm: { readonly widthMm: number; readonly heightMm: number } | null;
  /** how the visible part fits its size. */
  readonly preserveAspectRatio: string | null;
};

const MM_PER_PX = MM_PER_INCH / PX_PER_INCH;

/**
 * Reads width, height and viewBox of the root by SVG 2, 8.2 and CSS Images 3, 4.3: a missing side follows from the viewBox, a
 * percentage states nothing, and without a viewBox the size itself is the view.
 */
export function sizeOf(root: DrawingNode, cascade: Cascade): DrawingSize {
  const viewBox = readViewBox(root.attributes.get('viewBox'));
  const preserveAspectRatio = root.attributes.get('preserveAspectRatio') ?? null;
  let width = statedSide(root, cascade, 'width');
  let height = statedSide(root, cascade, 'height');
  if (viewBox !== null) {
    if (width !== null && height === null) height = (width * viewBox.height) / viewBox.width;
    else if (height !== null && width === null) width = (height * viewBox.width) / viewBox.height;
  }
  if (width === null || height === null)
    return {
      viewBox,
      aspect: viewBox === null ? 1 : viewBox.width / viewBox.height,
      naturalMm: null,
      preserveAspectRatio,
    };
  return {
    viewBox: viewBox ?? { x: 0, y: 0, width, height },
    aspect: width / height,
    naturalMm: { widthMm: width * MM_PER_PX, heightMm: height * MM_PER_PX },
    preserveAspectRatio,
  };
}

/** A style overrides the attribute; `auto` and percentages state nothing. */
function statedSide(root: DrawingNode, cascade: Cascade, side: 'width' | 'height'): number | null {
  const value = lengthPx(cascade.valuesOf(root, side)[0]?.replace(/!\s*important\s*$/i, ''));
  return value !== null && value > 0 ? value : null;
}
