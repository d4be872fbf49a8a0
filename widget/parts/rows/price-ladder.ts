import { html, nothing, svg, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import { piecesIn } from '../../draft/draft.ts';
import { scaleCounts } from '../../draft/scale-counts.ts';
import type { SlipContext } from '../context.ts';
import { whatChanges } from '../foot/what-changes.ts';
import { countStep } from './count-changes.ts';

/**
 * The price of one piece at other counts: a small chart whose bars set the count. Under it what the next steps would
 * change in all: price, day and hand; unfolded, what every step would.
 */
export function ladderPart(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const rungs = ctx.quotedLine(line.id)?.ladder ?? [];
  if (rungs.length < 2) return nothing;
  const { ui } = ctx.words;
  const pieces = piecesIn(line);
  const steps = ctx
    .alternatives(line.id)
    .flatMap((entry) => (entry.change.kind === 'count' ? [{ ...entry, count: entry.change.count }] : []));
  // a name belongs to its piece: another count would need other names
  const others = line.names ? [] : rungs.filter(({ count }) => count !== pieces);
  // the next two, whose room is there before what they would change is known
  const next = others.filter(({ count }) => count > pieces).slice(0, 2);
  const every = `steps ${line.id}`;
  const open = ctx.isOpen(every);
  const told = open ? others : next;
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
          aria-describedby=${told.includes(rung) ? stepId(rung.count) : nothing}
          @click=${() => ctx.changeLine(line.id, (old) => scaleCounts(old, rung.count))}>
          <span .textContent=${ctx.say.n(rung.count)}></span>
          <svg viewBox="0 0 100 9" preserveAspectRatio="none" aria-hidden="true">${svg`<rect width=${most > 0 ? (Number(rung.unit) / most) * 100 : 0} height="9"></rect>`}</svg>
          <span .textContent=${ctx.say.money(rung.unit)}></span></button>`,
      )}
    </div>
    ${
      others.length > next.length
        ? html`<div class="acts no-print"><button class="plain" type="button" aria-expanded=${open} @click=${() => ctx.toggle(every)}>${ui('every-count')}</button></div>`
        : nothing
    }
    ${told.map(({ count }) => {
      const step =
        steps.find((entry) => entry.count === count) ?? (open ? countStep(ctx, line, count) : null);
      return html`<p class="step" id=${stepId(count)}><span>${ui('pieces', { count })}</span> <span class="delta" .textContent=${step?.possible ? ctx.say.moreOrLess(step.difference) : ''}></span> <span class="sub">${step ? whatChanges(ctx, step) : nothing}</span></p>`;
    })}
  </div>`;
}
