import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer, Reason } from '../../../src/contract/index.ts';
import { firstMissing } from '../../draft/draft.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';
import { faultNotes } from './fault-notes.ts';

/**
 * The foot, always in view: unit price, ready day, total and method; "why" unfolds above it. What hinders is told there
 * at once, or, where it comes late, in the method's place, and unfolds on a press.
 *
 * @param act what is to be done next, where that is not to go to the order
 * @param refusedOrder why the order was not taken
 */
export function footPart(
  ctx: SlipContext,
  toOrder: () => void,
  act?: TemplateResult,
  refusedOrder?: ShopProblem | null,
): TemplateResult {
  const { ui } = ctx.words;
  const { answer, fresh, working } = ctx.quote;
  const problem = refusedOrder ?? ctx.quote.problem;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const refused = fresh && answer?.kind === 'refusal' ? answer : null;
  const lack = ctx.draft.lines.map(firstMissing).find((entry) => entry !== null) ?? null;
  const open = ctx.isOpen('why');
  // two methods may be ruled out by the same limit: said once
  const sentences = (reasons: readonly Reason[]): string[] => [
    ...new Set(reasons.map((entry) => ctx.words.reason(entry))),
  ];
  const hindered = [...(problem ? [problem.code] : []), ...(refused ? ['refused'] : [])];
  const shown = ctx.unfolding.among('foot', hindered);
  const folded =
    problem && !shown.has(problem.code)
      ? ctx.words.problem(problem.code)
      : refused && !shown.has('refused')
        ? // the first of several only says that there are some
          (sentences(refused.reasons)[1] ?? sentences(refused.reasons)[0])
        : undefined;
  const stale = !fresh && quoted !== null;
  // as a node of its own: one that goes on with another figure counts as moved where it is centered or at the end
  const value = (say: (quoted: QuoteAnswer) => string): TemplateResult =>
    quoted ? html`<span .textContent=${say(quoted)}></span>` : html`<span><i class="blank-value"></i></span>`;
  return html`<div class="foot" part="foot">
    <div class="room">${
      problem && shown.has(problem.code)
        ? html`<div class="alert ${refusedOrder ? '' : 'quiet'}" role=${refusedOrder ? 'alert' : 'status'}>${ctx.words.problem(problem.code)} ${faultNotes(problem.faults)}</div>`
        : nothing
    }
    ${
      refused && shown.has('refused')
        ? html`<div class="alert" part="refusal">
            <ul>${sentences(refused.reasons).map((words) => html`<li>${words}</li>`)}</ul>
            ${refused.nearest.length > 0 ? html`<div>${ui('what-would-help')}<ul>${sentences(refused.nearest).map((words) => html`<li>${words}</li>`)}</ul></div>` : nothing}
          </div>`
        : nothing
    }
    ${open && quoted ? (ctx.later.why.value?.whyPart(ctx, quoted) ?? nothing) : nothing}
    </div>
    <div class="answer" ?data-stale=${stale} aria-busy=${working}>
      <div><div class="label">${ui(quoted && quoted.lines.length > 1 ? 'unit-price-from' : 'unit-price')}</div>
        <div class="value" part="unit-price">${value((now) => ctx.say.money(lowestUnit(now)))}</div></div>
      <div><div class="label">${ui('ready')}</div><div class="value" part="ready-day">${value((now) => ctx.say.day(now.promise.day))}</div></div>
      <div><div class="label">${ui('total')}</div><div class="value big" part="total">${value((now) => ctx.say.money(now.total))}</div></div>
    </div>
    <div class="foot-acts" ?data-stale=${stale}>
      ${
        folded === undefined
          ? html`<div class="how"><div class="label">${ui('method')}
          <button class="plain no-print" type="button" aria-expanded=${open} ?disabled=${!quoted} @click=${() => ctx.toggle('why')}>${ui('why')}</button></div>
        <div class="value" part="method">${value((now) => methodsOf(ctx, now))}</div>
      </div>`
          : html`<div class="how stopped" part=${problem ? nothing : 'refusal'}>
        <button class="plain" type="button" aria-expanded="false" @click=${() => ctx.unfolding.set('foot', true)}>${ui('why')}</button>
        <div role=${problem ? 'status' : nothing}>${folded}</div>
      </div>`
      }
      ${
        act ??
        (lack
          ? html`<p class="lack" part="lack" .textContent=${ui(`lack-${lack}`)}></p>`
          : html`<button class="main" type="button" part="order-button" ?disabled=${ctx.disabled || !fresh || !quoted} @click=${toOrder}>${ui('to-order')}</button>`)
      }
    </div>
  </div>`;
}

/** Methods on the slip, each once, in order. */
export function methodsOf(ctx: SlipContext, quoted: QuoteAnswer): string {
  const names = quoted.lines.flatMap((line) =>
    line.placements.map((placement) => ctx.text(placement.method.name)),
  );
  return [...new Set(names)].join(' + ');
}

function lowestUnit(quoted: QuoteAnswer): string {
  return quoted.lines.reduce(
    (least, line) => (Number(line.unit) < Number(least) ? line.unit : least),
    quoted.lines[0]!.unit,
  );
}
