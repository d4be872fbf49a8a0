import { html, type TemplateResult } from 'lit';
import { hundredth } from '../../../src/figures.ts';
import { plainDigits } from '../../draft/whole-number.ts';
import { readLength } from '../../format/read-length.ts';
import type { SlipContext } from '../context.ts';
import { judge } from './field-error.ts';

/** A field that refuses in words and keeps what was typed, or gives the number it read. */
function numberField(
  ctx: SlipContext,
  label: string,
  now: number,
  shown: string,
  refused: string,
  read: (text: string) => number | null,
  set: (value: number) => void,
): TemplateResult {
  return html`<label>${label}
    <input class="field" inputmode="decimal" autocomplete="off" ?disabled=${ctx.disabled} .value=${shown}
      @change=${(event: Event) => {
        const field = event.target as HTMLInputElement;
        const value = read(field.value);
        judge(field, value === null ? refused : '');
        if (value === null) return;
        if (value === now) field.value = shown;
        else set(value);
      }} /></label>`;
}

/** A length in the customer's units; `least` and `most` in mm. `set` is called with another length only. */
export function lengthField(
  ctx: SlipContext,
  label: string,
  mm: number,
  least: number,
  most: number,
  set: (mm: number) => void,
): TemplateResult {
  const { formatter, len } = ctx.say;
  return numberField(
    ctx,
    `${label} (${formatter.unitName(ctx.units)})`,
    mm,
    formatter.lengthField(mm, ctx.units),
    ctx.words.ui('length-range', { least, most, leastText: len(least), mostText: len(most) }),
    (text) => {
      const read = readLength(text, ctx.units, formatter.lang);
      return 'mm' in read && read.mm >= least && read.mm <= most ? hundredth(read.mm) : null;
    },
    set,
  );
}

/** An angle in degrees, clockwise. */
export function angleField(ctx: SlipContext, angleDeg: number, set: (deg: number) => void): TemplateResult {
  return numberField(
    ctx,
    `${ctx.words.ui('angle')} (°)`,
    angleDeg,
    String(angleDeg),
    ctx.words.ui('angle-range'),
    (text) => {
      const plain = plainDigits(text).replace(/[,٫]/, '.').replace('°', '');
      const value = Number(plain);
      return plain.trim() !== '' && Math.abs(value) <= 360 ? hundredth(value) : null;
    },
    set,
  );
}
