import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import { smallDrawing } from '../blank-thumbnail.ts';
import type { SlipContext } from '../context.ts';

/** Row 1: which item. Choosing another keeps what fits: sizes, colors and faces of the same id. */
export function itemRow(ctx: SlipContext, line: DraftLine): TemplateResult {
  const chosen = ctx.blankOf(line);
  const pick = (id: string): void => {
    const blank = ctx.catalog.blanks.find((entry) => entry.id === id);
    if (!blank) return;
    const sizes = new Set(blank.sizes.map((size) => size.id));
    const faces = new Set(blank.faces.map((face) => face.id));
    ctx.changeLine(line.id, (old) => ({
      ...old,
      blank: id,
      color: blank.colors.some((color) => color.id === old.color) ? old.color : (blank.colors[0]?.id ?? null),
      counts:
        old.counts.filter((entry) => sizes.has(entry.size)).length > 0
          ? old.counts.filter((entry) => sizes.has(entry.size))
          : blank.sizes.length === 1
            ? [
                {
                  size: blank.sizes[0]!.id,
                  count: Math.max(
                    1,
                    old.counts.reduce((sum, entry) => sum + entry.count, 0),
                  ),
                },
              ]
            : [],
      placements: old.placements.filter((placement) => faces.has(placement.face)),
      names: old.names && faces.has(old.names.face) ? old.names : null,
      finish: old.finish ?? ctx.catalog.finishes[0]?.id ?? null,
    }));
    ctx.activate(line.id, blank.faces[0]?.id ?? null, null);
  };
  return html`<fieldset class="row" part="item">
    <legend>${ctx.words.ui('item')}<span class="leader"></span><span class="chosen">${chosen?.description ? ctx.text(chosen.description) : nothing}</span></legend>
    <div class="items">
      ${ctx.catalog.blanks.map(
        (blank) => html`<label class="pick">
          <input type="radio" name="item-${line.id}" .checked=${blank.id === line.blank} ?disabled=${ctx.disabled}
            @change=${() => pick(blank.id)} />
          <span class="face">${smallDrawing(
            blank.views[0]!,
            blank.colors.find((color) => color.id === line.color)?.hex ?? blank.colors[0]?.hex ?? '#ffffff',
          )}${ctx.text(blank.name)}</span>
        </label>`,
      )}
    </div>
  </fieldset>`;
}

/** Row 2: the color, by name. */
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
            ?disabled=${ctx.disabled} @change=${() => ctx.changeLine(line.id, (old) => ({ ...old, color: color.id }))} />
          <svg class="dot" viewBox="0 0 32 32" aria-hidden="true"><circle cx="16" cy="16" r="16" fill=${color.hex}></circle></svg>
        </label>`,
      )}
    </div>
  </fieldset>`;
}
