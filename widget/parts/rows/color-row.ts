import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';

/** Row 2: the color. */
export function colorRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  if (!blank) return nothing;
  const chosen = blank.colors.find((color) => color.id === line.color);
  return html`<fieldset class="row" part="color">
    <legend>${ctx.words.ui('color')}<span class="leader"></span><span class="chosen">${chosen ? ctx.text(chosen.name) : nothing}</span></legend>
    <div class="swatches">
      ${blank.colors.map(
        (color) => html`<label class="swatch" title=${ctx.text(color.name)}>
          <input type="radio" name="color-${line.id}" aria-label=${ctx.text(color.name)} .checked=${color.id === line.color}
            ?disabled=${ctx.disabled} @change=${() => ctx.editLine(line.id, (old) => ({ ...old, color: color.id }))} />
          <svg class="dot" viewBox="0 0 32 32" aria-hidden="true"><circle cx="16" cy="16" r="16" fill=${color.hex}></circle></svg>
        </label>`,
      )}
    </div>
  </fieldset>`;
}
