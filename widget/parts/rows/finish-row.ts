import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';
import { howMade, whatChanges } from '../foot/what-changes.ts';

/** Row 5: how it should feel and look; each choice says beforehand what it would change. */
export function finishRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  if (!line.blank) return nothing;
  const { ui } = ctx.words;
  const finishes = ctx.catalog.finishes;
  const chosen = finishes.find((finish) => finish.id === line.finish);
  // as the choices are told: by the line's first print
  const now = ctx.quotedLine(line.id)?.placements[0];
  const byFinish = new Map(
    ctx
      .alternatives(line.id)
      .flatMap((entry) => (entry.change.kind === 'finish' ? [[entry.change.finish, entry] as const] : [])),
  );
  return html`<fieldset class="row" part="finish">
    <legend>${ui('finish')}<span class="leader"></span><span class="chosen">${chosen ? ctx.text(chosen.name) : nothing}</span></legend>
    <div class="options">
      ${finishes.map((finish) => {
        const other = byFinish.get(finish.id);
        const isChosen = finish.id === line.finish;
        const off = other !== undefined && !other.possible;
        return html`<label class="option ${off ? 'off' : ''}">
          <input type="radio" name="finish-${line.id}" .checked=${isChosen} ?disabled=${ctx.disabled}
            @change=${() => ctx.changeLine(line.id, (old) => ({ ...old, finish: finish.id, method: null }))} />
          <span>${ctx.text(finish.name)}</span>
          <span class="delta" .textContent=${other?.possible ? ctx.say.moreOrLess(other.difference) : ''}></span>
          <span class="sub">${finish.description ? ctx.text(finish.description) : nothing}
            <span class="then">${other ? whatChanges(ctx, other) : isChosen && now ? howMade(ctx, { ...now, method: now.method.id }).join(' · ') : nothing}</span></span>
        </label>`;
      })}
    </div>
  </fieldset>`;
}
