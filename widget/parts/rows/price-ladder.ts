import { html, nothing, svg, type TemplateResult } from 'lit';
import { type DraftLine, piecesIn } from '../../draft/draft.ts';
import { scaleCounts } from '../../draft/scale-counts.ts';
import type { SlipContext } from '../context.ts';
import { describeChange } from '../foot/describe-change.ts';
import { countChange } from './count-changes.ts';

/**
 * The unit price at other counts: a small chart whose bars set the count. Below it, what the next two counts would change
 * in all (price, day, hand); expanded, what every count would change.
 */
export function priceLadder(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const rungs = ctx.quotedLine(line.id)?.ladder ?? [];
  if (rungs.length < 2) return nothing;
  const { ui } = ctx.words;
  const pieces = piecesIn(line);
  const changes = ctx
    .alternatives(line.id)
    .flatMap((entry) => (entry.change.kind === 'count' ? [{ ...entry, count: entry.change.count }] : []));
  // with names the count is that of the list
  const others = line.names ? [] : rungs.filter(({ count }) => count !== pieces);
  // their space is reserved before their changes are known
  const next = others.filter(({ count }) => count > pieces).slice(0, 2);
  const openKey = `steps ${line.id}`;
  const open = ctx.isOpen(openKey);
  const shown = open ? others : next;
  const stepId = (count: number): string => `step-${line.id}-${count}`;
  const most = Math.max(...rungs.map((rung) => Number(rung.unit)));
  return html`<div class="row room" role="group" aria-label=${ui('price-by-count')} part="ladder">
    <div class="row-title">${ui('price-by-count')}<span class="leader"></span></div>
    <div class="rungs">
      ${rungs.map(
        (
          rung,
        ) => html`<button class="rung" type="button" aria-pressed=${rung.count === pieces} ?disabled=${ctx.disabled}
          aria-label=${ui('count-at-price', { count: rung.count, unit: rung.unit, total: rung.total })}
          aria-describedby=${shown.includes(rung) ? stepId(rung.count) : nothing}
          @click=${() => ctx.editLine(line.id, (old) => scaleCounts(old, rung.count))}>
          <span .textContent=${ctx.format.n(rung.count)}></span>
          <svg viewBox="0 0 100 9" preserveAspectRatio="none" aria-hidden="true">${svg`<rect width=${most > 0 ? (Number(rung.unit) / most) * 100 : 0} height="9"></rect>`}</svg>
          <span .textContent=${ctx.format.money(rung.unit)}></span></button>`,
      )}
    </div>
    ${
      others.length > next.length
        ? html`<div class="acts no-print"><button class="plain" type="button" aria-expanded=${open} @click=${() => ctx.toggle(openKey)}>${ui('every-count')}</button></div>`
        : nothing
    }
    ${shown.map(({ count }) => {
      const change =
        changes.find((entry) => entry.count === count) ?? (open ? countChange(ctx, line, count) : null);
      return html`<p class="step" id=${stepId(count)}><span>${ui('pieces', { count })}</span> <span class="delta" .textContent=${change?.possible ? ctx.format.moreOrLess(change.difference) : ''}></span> <span class="sub">${change ? describeChange(ctx, change) : nothing}</span></p>`;
    })}
  </div>`;
}
