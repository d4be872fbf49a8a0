import { type DrawingNode, walk } from './drawing-node.ts';

/** How far a filter may extend beyond its element, as a share of the element; SVG's default is 0.1. */
const REACH = 3;

/**
 * Clamps the region of every filter. Some drawing programs write regions in the wrong unit, hundreds of times the shape;
 * nothing that far out is visible.
 */
export function clampFilters(root: DrawingNode): void {
  for (const node of walk(root)) {
    if (node.name !== 'filter' || node.attributes.get('filterUnits') === 'userSpaceOnUse') continue;
    clamp(node, 'x', 'width');
    clamp(node, 'y', 'height');
    // Removed from SVG long ago; it could only request huge pictures.
    node.attributes.delete('filterRes');
  }
}

function clamp(node: DrawingNode, start: 'x' | 'y', extent: 'width' | 'height'): void {
  const from = share(node.attributes.get(start), -0.1);
  const size = share(node.attributes.get(extent), 1.2);
  const to = Math.min(from + size, 1 + REACH);
  const clampedFrom = Math.max(from, -REACH);
  if (clampedFrom === from && to === from + size) return;
  node.attributes.set(start, String(clampedFrom));
  node.attributes.set(extent, String(Math.max(0, to - clampedFrom)));
}

/** A number or a percentage as a share; the default if it is neither. */
function share(text: string | undefined, fallback: number): number {
  const match = /^\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)\s*(%?)\s*$/i.exec(text ?? '');
  if (match === null) return fallback;
  const value = Number(match[1]) / (match[2] === '%' ? 100 : 1);
  return Number.isFinite(value) ? value : fallback;
}
