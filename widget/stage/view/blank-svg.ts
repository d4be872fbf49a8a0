/** The blank itself, true to scale: catalog shapes as inline SVG, in mm of the view. */
import type { TemplateResult } from 'lit';
import { nothing, svg } from 'lit';
import type { DrawingShape, View } from '../../../src/catalog/index.ts';
import type { Bounds } from '../geometry/placement-math.ts';

/** Relative luminance of `#rrggbb`, 0 black to 1 white (IEC 61966-2-1 decoding, BT.709 weights). */
export function luminance(hex: string): number {
  const channel = (at: number) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  const sum = 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
  return Number.isFinite(sum) ? sum : 1;
}

/** Below this the cloth is dark: its lines are drawn light. Halfway in lightness. */
const DARK_BELOW = 0.16;

type Pen = {
  readonly outline: string;
  readonly seam: string;
  readonly shade: string;
  readonly light: string;
  readonly trim: string;
};

const PEN_ON_LIGHT: Pen = {
  outline: 'rgb(38 42 52 / .78)',
  seam: 'rgb(38 42 52 / .42)',
  shade: 'rgb(30 34 48 / .085)',
  light: 'rgb(255 255 255 / .38)',
  trim: 'rgb(30 34 48 / .16)',
};
const PEN_ON_DARK: Pen = {
  outline: 'rgb(0 0 0 / .9)',
  seam: 'rgb(255 255 255 / .46)',
  shade: 'rgb(0 0 0 / .3)',
  light: 'rgb(255 255 255 / .09)',
  trim: 'rgb(0 0 0 / .35)',
};

/** Which pen draws on a cloth of this color. */
export const penFor = (clothHex: string): Pen =>
  luminance(clothHex) < DARK_BELOW ? PEN_ON_DARK : PEN_ON_LIGHT;

function shape(one: DrawingShape, clothHex: string, pen: Pen): TemplateResult {
  switch (one.role) {
    case 'cloth':
      return svg`<path class="cloth" d=${one.d} fill=${one.hex ?? clothHex} stroke=${pen.outline}></path>`;
    case 'trim':
      return svg`<path class="trim" d=${one.d} fill=${one.hex ?? pen.trim} stroke=${pen.outline}></path>`;
    case 'shade':
      return svg`<path d=${one.d} fill=${one.hex ?? pen.shade}></path>`;
    case 'light':
      return svg`<path d=${one.d} fill=${one.hex ?? pen.light}></path>`;
    case 'seam':
      return svg`<path class="seam" d=${one.d} fill="none" stroke=${one.hex ?? pen.seam}></path>`;
  }
}

/** All shapes of a view in the cloth's color, first at the bottom. */
export function blankSvg(view: View, clothHex: string): TemplateResult {
  const pen = penFor(clothHex);
  const cast = view.shapes.find((one) => one.role === 'cloth');
  return svg`
    ${cast ? svg`<path class="cast" d=${cast.d} transform="translate(0 ${view.heightMm / 160})"></path>` : nothing}
    ${view.shapes.map((one) => shape(one, clothHex, pen))}`;
}

/** Lines at 45 degrees across a box, `gap` apart, as path data: a hatch that needs no pattern id. */
export function hatchPath(box: Bounds, gap: number): string {
  const width = box.right - box.left;
  const height = box.bottom - box.top;
  if (!(width > 0) || !(height > 0) || !(gap > 0)) return '';
  let d = '';
  // x + y = const within the box
  for (let sum = gap; sum < width + height; sum += gap) {
    const x1 = Math.min(sum, width);
    const x2 = Math.max(0, sum - height);
    d += `M${at(box.left + x1)} ${at(box.top + sum - x1)}L${at(box.left + x2)} ${at(box.top + sum - x2)}`;
  }
  return d;
}

const at = (mm: number): number => Math.round(mm * 100) / 100;
