import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer, Reason } from '../../../src/contract/index.ts';
import { firstMissing } from '../../draft/draft.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';
import { faultNotes } from './fault-notes.ts';

/**
 * The foot, always in view: unit price, ready day, total and method, with the reasons expanding above them. A problem or
 * refusal is shown there at once, or, when it comes late, on the method's line, to be expanded by a press.
 *
 * @param action what to do next, if not to go to the order
 * @param orderProblem why the order was not accepted
 */
export function footPart(
  ctx: SlipContext,
  toOrder: () => void,
  action?: TemplateResult,
  orderProblem?: ShopProblem | null,
): TemplateResult {
  const { ui } = ctx.words;
  const { answer, isFresh, isLoading } = ctx.quote;
  const problem = orderProblem ?? ctx.quote.problem;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const refused = isFresh && answer?.kind === 'refusal' ? answer : null;
  const missing = ctx.draft.lines.map(firstMissing).find((entry) => entry !== null) ?? null;
  const open = ctx.isOpen('why');
  // one limit may rule out several methods, in the same words
  const sentences = (reasons: readonly Reason[]): string[] => [
    ...new Set(reasons.map((entry) => ctx.words.reason(entry))),
  ];
  const messages = [...(problem ? [problem.code] : []), ...(refused ? ['refused'] : [])];
  const expanded = ctx.expanded.expandedIn('foot', messages);
  const collapsed =
    problem && !expanded.has(problem.code)
      ? ctx.words.problem(problem.code)
      : refused && !expanded.has('refused')
        ? // the first of several reasons only says that there are some
          (sentences(refused.reasons)[1] ?? sentences(refused.reasons)[0])
        : undefined;
  const stale = !isFresh && quoted !== null;
  // A fresh node per value, so that changed text is not counted as layout shift.
  const value = (text: (quoted: QuoteAnswer) => string): TemplateResult =>
    quoted
      ? html`<span .textContent=${text(quoted)}></span>`
      : html`<span><i class="blank-value"></i></span>`;
  return html`<div class="foot" part="foot">
    <div class="room">${
      problem && expanded.has(problem.code)
        ? html`<div class="alert ${orderProblem ? '' : 'quiet'}" role=${orderProblem ? 'alert' : 'status'}>${ctx.words.problem(problem.code)} ${faultNotes(problem.faults)}</div>`
        : nothing
    }
    ${
      refused && expanded.has('refused')
        ? html`<div class="alert" part="refusal">
            <ul>${sentences(refused.reasons).map((words) => html`<li>${words}</li>`)}</ul>
            ${refused.nearest.length > 0 ? html`<div>${ui('what-would-help')}<ul>${sentences(refused.nearest).map((words) => html`<li>${words}</li>`)}</ul></div>` : nothing}
          </div>`
        : nothing
    }
    ${open && quoted ? (ctx.deferred.reasons.value?.reasonsPart(ctx, quoted) ?? nothing) : nothing}
    </div>
    <div class="answer" ?data-stale=${stale} aria-busy=${isLoading}>
      <div><div class="label">${ui(quoted && quoted.lines.length > 1 ? 'unit-price-from' : 'unit-price')}</div>
        <div class="value" part="unit-price">${value((now) => ctx.format.money(lowestUnitPrice(now)))}</div></div>
      <div><div class="label">${ui('ready')}</div><div class="value" part="ready-day">${value((now) => ctx.format.day(now.promise.day))}</div></div>
      <div><div class="label">${ui('total')}</div><div class="value big" part="total">${value((now) => ctx.format.money(now.total))}</div></div>
    </div>
    <div class="foot-acts" ?data-stale=${stale}>
      ${
        collapsed === undefined
          ? html`<div class="how"><div class="label">${ui('method')}
          <button class="plain no-print" type="button" aria-expanded=${open} ?disabled=${!quoted} @click=${() => ctx.toggle('why')}>${ui('why')}</button></div>
        <div class="value" part="method">${value((now) => methodNames(ctx, now))}</div>
      </div>`
          : html`<div class="how stopped" part=${problem ? nothing : 'refusal'}>
        <button class="plain" type="button" aria-expanded="false" @click=${() => ctx.expanded.setExpanded('foot', true)}>${ui('why')}</button>
        <div role=${problem ? 'status' : nothing}>${collapsed}</div>
      </div>`
      }
      ${
        action ??
        (missing
          ? html`<p class="lack" part="lack" .textContent=${ui(`lack-${missing}`)}></p>`
          : html`<button class="main" type="button" part="order-button" ?disabled=${ctx.disabled || !isFresh || !quoted} @click=${toOrder}>${ui('to-order')}</button>`)
      }
    </div>
  </div>`;
}

/** The methods of the slip, each once, in order. */
function methodNames(ctx: SlipContext, quoted: QuoteAnswer): string {
  const names = quoted.lines.flatMap((line) =>
    line.placements.map((placement) => ctx.text(placement.method.name)),
  );
  return [...new Set(names)].join(' + ');
}

function lowestUnitPrice(quoted: QuoteAnswer): string {
  return quoted.lines.reduce(
    (least, line) => (Number(line.unit) < Number(least) ? line.unit : least),
    quoted.lines[0]!.unit,
  );
}
