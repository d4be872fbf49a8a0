import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';
import { describeChange, describeMethod } from '../foot/describe-change.ts';

/** Row 5: how it should feel and look. Each finish shows what choosing it would change. */
export function finishRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  if (!line.blank) return nothing;
  const { ui } = ctx.words;
  const finishes = ctx.catalog.finishes;
  const chosen = finishes.find((finish) => finish.id === line.finish);
  // alternatives describe a line by its first print
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
            @change=${() => ctx.editLine(line.id, (old) => ({ ...old, finish: finish.id, method: null }))} />
          <span>${ctx.text(finish.name)}</span>
          <span class="delta" .textContent=${other?.possible ? ctx.format.moreOrLess(other.difference) : ''}></span>
          <span class="sub">${finish.description ? ctx.text(finish.description) : nothing}
            <span class="then">${other ? describeChange(ctx, other) : isChosen && now ? describeMethod(ctx, { ...now, method: now.method.id }).join(' · ') : nothing}</span></span>
        </label>`;
      })}
    </div>
  </fieldset>`;
}
