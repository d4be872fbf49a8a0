import { html, type TemplateResult } from 'lit';
import { hundredth } from '../../../src/figures.ts';
import { toAsciiDigits } from '../../draft/whole-number.ts';
import { parseLengthIn } from '../../format/read-length.ts';
import type { SlipContext } from '../context.ts';
import { setFieldError } from './field-error.ts';

/** A field for a number. Text it cannot read stays in the field, with an error. */
function numberField(
  ctx: SlipContext,
  label: string,
  current: number,
  shown: string,
  error: string,
  parse: (text: string) => number | null,
  set: (value: number) => void,
): TemplateResult {
  return html`<label>${label}
    <input class="field" inputmode="decimal" autocomplete="off" ?disabled=${ctx.disabled} .value=${shown}
      @change=${(event: Event) => {
        const field = event.target as HTMLInputElement;
        const value = parse(field.value);
        setFieldError(field, value === null ? error : '');
        if (value === null) return;
        if (value === current) field.value = shown;
        else set(value);
      }} /></label>`;
}

/** A length in the customer's units; `mm`, `least` and `most` in mm. `set` is called only when the length changes. */
export function lengthField(
  ctx: SlipContext,
  label: string,
  mm: number,
  least: number,
  most: number,
  set: (mm: number) => void,
): TemplateResult {
  const { formatter, len } = ctx.format;
  return numberField(
    ctx,
    `${label} (${formatter.unitName(ctx.units)})`,
    mm,
    formatter.lengthField(mm, ctx.units),
    ctx.words.ui('length-range', { least, most, leastText: len(least), mostText: len(most) }),
    (text) => {
      const parsed = parseLengthIn(text, ctx.units, formatter.lang);
      return 'mm' in parsed && parsed.mm >= least && parsed.mm <= most ? hundredth(parsed.mm) : null;
    },
    set,
  );
}

/** An angle in degrees, clockwise, -360 to 360. */
export function angleField(ctx: SlipContext, angleDeg: number, set: (deg: number) => void): TemplateResult {
  return numberField(
    ctx,
    `${ctx.words.ui('angle')} (°)`,
    angleDeg,
    String(angleDeg),
    ctx.words.ui('angle-range'),
    (text) => {
      const plain = toAsciiDigits(text).replace(/[,٫]/, '.').replace('°', '');
      const value = Number(plain);
      return plain.trim() !== '' && Math.abs(value) <= 360 ? hundredth(value) : null;
    },
    set,
  );
}
