import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import { withBlank } from '../../draft/with-blank.ts';
import { blankThumbnail } from '../blank-thumbnail.ts';
import type { SlipContext } from '../context.ts';

/** Row 1: the item. */
export function itemRow(ctx: SlipContext, line: DraftLine): TemplateResult {
  const chosen = ctx.blankOf(line);
  const choose = (id: string): void => {
    const blank = ctx.catalog.blanks.find((entry) => entry.id === id);
    if (!blank) return;
    ctx.editLine(line.id, (old) => withBlank(old, blank, ctx.catalog.finishes[0]?.id ?? null));
    ctx.activate(line.id, blank.faces[0]?.id ?? null, null);
  };
  return html`<fieldset class="row" part="item">
    <legend>${ctx.words.ui('item')}<span class="leader"></span><span class="chosen">${chosen?.description ? ctx.text(chosen.description) : nothing}</span></legend>
    <div class="items">
      ${ctx.catalog.blanks.map(
        (blank) => html`<label class="pick">
          <input type="radio" name="item-${line.id}" .checked=${blank.id === line.blank} ?disabled=${ctx.disabled}
            @change=${() => choose(blank.id)} />
          <span class="face">${blankThumbnail(
            blank.views[0]!,
            blank.colors.find((color) => color.id === line.color)?.hex ?? blank.colors[0]?.hex ?? '#ffffff',
          )}${ctx.text(blank.name)}</span>
        </label>`,
      )}
    </div>
  </fieldset>`;
}
