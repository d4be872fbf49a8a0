import { html, nothing, type TemplateResult } from 'lit';
import type { Alternative } from '../../src/contract/index.ts';
import type { DraftLine } from '../controllers/draft.ts';
import type { SlipContext } from './context.ts';

/** Row 5: how it should feel and look; each choice says beforehand what it would change. */
export function finishRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  if (!line.blank) return nothing;
  const { ui } = ctx.words;
  const finishes = ctx.catalog.finishes;
  const chosen = finishes.find((finish) => finish.id === line.finish);
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
        const off = other !== undefined && !other.possible;
        return html`<label class="option ${off ? 'off' : ''}">
          <input type="radio" name="finish-${line.id}" .checked=${finish.id === line.finish} ?disabled=${ctx.disabled}
            @change=${() => ctx.changeLine(line.id, (old) => ({ ...old, finish: finish.id, method: null }))} />
          <span>${ctx.text(finish.name)}</span>
          <span class="delta">${other?.possible ? ctx.say.moreOrLess(other.difference) : nothing}</span>
          <span class="sub">${finish.description ? ctx.text(finish.description) : nothing}
            ${other ? html` <span>${whatChanges(ctx, other)}</span>` : nothing}</span>
        </label>`;
      })}
    </div>
  </fieldset>`;
}

/** In words: a later or earlier day, another hand or wash life, or what rules it out. */
export function whatChanges(ctx: SlipContext, other: Alternative): string {
  const { ui, reason } = ctx.words;
  if (!other.possible) return other.reasons.map(reason).join(' ');
  const parts: string[] = [];
  if (other.dayShift)
    parts.push(ui(other.dayShift > 0 ? 'days-later' : 'days-earlier', { count: Math.abs(other.dayShift) }));
  if (other.method) parts.push(ctx.say.name('method', other.method));
  if (other.qualities)
    parts.push(
      ui('hand-and-wash', {
        hand: ui(handWord(other.qualities.hand)),
        washes: other.qualities.washLifeCycles,
      }),
    );
  return parts.join(' · ');
}

/** The word for a hand of 0 to 4. */
export function handWord(hand: number): 'hand-0' | 'hand-1' | 'hand-2' | 'hand-3' {
  if (hand < 0.75) return 'hand-0';
  if (hand < 1.5) return 'hand-1';
  if (hand < 2.5) return 'hand-2';
  return 'hand-3';
}
