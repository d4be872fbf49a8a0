import { html, nothing, svg, type TemplateResult } from 'lit';
import type { DraftLine } from '../controllers/draft.ts';
import { piecesIn } from '../controllers/draft.ts';
import { scaleTo } from '../controllers/scale-to.ts';
import type { SlipContext } from './context.ts';

const WIDTH = 320;
const HEIGHT = 56;

/** The price of one piece at other counts, as bars and as buttons that set the count. */
export function ladderPart(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const rungs = ctx.quotedLine(line.id)?.ladder ?? [];
  if (rungs.length < 2) return nothing;
  const { ui } = ctx.words;
  const pieces = piecesIn(line);
  const most = Math.max(...rungs.map((rung) => Number(rung.unit)));
  const step = WIDTH / rungs.length;
  return html`<div class="row" role="group" aria-label=${ui('price-by-count')} part="ladder">
    <div class="row-title">${ui('price-by-count')}</div>
    <svg class="ladder" viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true" preserveAspectRatio="none">
      ${rungs.map((rung, index) => {
        const height = most > 0 ? (Number(rung.unit) / most) * HEIGHT : 0;
        return svg`<rect class="rung ${rung.count === pieces ? 'now' : ''}" x=${index * step + 3} y=${HEIGHT - height}
          width=${step - 6} height=${height} rx="1.5"></rect>`;
      })}
    </svg>
    <div class="rungs">
      ${rungs.map(
        (
          rung,
        ) => html`<button type="button" aria-pressed=${rung.count === pieces ? 'true' : 'false'} ?disabled=${ctx.disabled}
          aria-label=${ui('count-at-price', { count: rung.count, unit: rung.unit, total: rung.total })}
          @click=${() => ctx.changeLine(line.id, (old) => scaleTo(old, rung.count))}>
          ${ctx.say.n(rung.count)} × ${ctx.say.money(rung.unit)}</button>`,
      )}
    </div>
  </div>`;
}
