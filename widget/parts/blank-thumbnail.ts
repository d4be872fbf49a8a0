import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { View } from '../../src/catalog/index.ts';

const SHADES = { shade: ['#000', '0.13'], light: ['#fff', '0.16'], trim: ['#000', '0.08'] } as const;

/** A small drawing of a blank in a color. Decorative: the blank's name is beside it. */
export function blankThumbnail(view: View, hex: string): TemplateResult {
  const shapes: SVGTemplateResult[] = view.shapes.map((shape) => {
    if (shape.role === 'cloth')
      return svg`<path d=${shape.d} fill=${shape.hex ?? hex} stroke="#6b675c" stroke-width=${view.widthMm / 90}></path>`;
    if (shape.role === 'seam') return svg``;
    const [fill, opacity] = SHADES[shape.role];
    return svg`<path d=${shape.d} fill=${shape.hex ?? fill} fill-opacity=${shape.hex ? '1' : opacity}></path>`;
  });
  return html`<svg viewBox="0 0 ${view.widthMm} ${view.heightMm}" aria-hidden="true" focusable="false">${shapes}</svg>`;
}
