import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer, Reason } from '../../src/contract/index.ts';
import { lacking } from '../controllers/draft.ts';
import type { SlipContext } from './context.ts';
import { faultNotes } from './fault-notes.ts';

/**
 * The foot, always in view: unit price, ready day, total and method; "why" unfolds above it.
 *
 * @param act what is to be done next, where that is not to go to the order
 */
export function footPart(ctx: SlipContext, toOrder: () => void, act?: TemplateResult): TemplateResult {
  const { ui } = ctx.words;
  const { answer, fresh, working, problem } = ctx.quote;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const refused = fresh && answer?.kind === 'refusal' ? answer : null;
  const lack = ctx.draft.lines.map(lacking).find((entry) => entry !== null) ?? null;
  const open = ctx.isOpen('why');
  // two methods may be ruled out by the same limit: said once
  const sentences = (reasons: readonly Reason[]): string[] => [
    ...new Set(reasons.map((entry) => ctx.words.reason(entry))),
  ];
  const stale = !fresh && quoted !== null;
  const value = (content: unknown): unknown =>
    quoted ? content : html`<span class="blank-value" aria-hidden="true"></span>`;
  return html`<div class="foot" part="foot">
    ${
      problem
        ? html`<div class="alert quiet" role="status">${ctx.words.problem(problem.code)} ${faultNotes(problem.faults)}</div>`
        : nothing
    }
    ${
      refused
        ? html`<div class="alert" part="refusal">
            <ul>${sentences(refused.reasons).map((words) => html`<li>${words}</li>`)}</ul>
            ${refused.nearest.length > 0 ? html`<div>${ui('what-would-help')}<ul>${sentences(refused.nearest).map((words) => html`<li>${words}</li>`)}</ul></div>` : nothing}
          </div>`
        : nothing
    }
    ${open && quoted ? (ctx.later.why.value?.whyPart(ctx, quoted) ?? nothing) : nothing}
    <div class="answer" ?data-stale=${stale} aria-busy=${working ? 'true' : 'false'}>
      <div><div class="label">${ui(quoted && quoted.lines.length > 1 ? 'unit-price-from' : 'unit-price')}</div>
        <div class="value" part="unit-price">${value(quoted ? ctx.say.money(lowestUnit(quoted)) : nothing)}</div></div>
      <div><div class="label">${ui('ready')}</div><div class="value" part="ready-day">${value(quoted ? ctx.say.day(quoted.promise.day) : nothing)}</div></div>
      <div><div class="label">${ui('total')}</div><div class="value big" part="total">${value(quoted ? ctx.say.money(quoted.total) : nothing)}</div></div>
    </div>
    <div class="foot-acts" ?data-stale=${stale}>
      <div class="how"><div class="label">${ui('method')}
          <button class="plain no-print" type="button" aria-expanded=${open ? 'true' : 'false'} ?disabled=${!quoted} @click=${() => ctx.toggle('why')}>${ui('why')}</button></div>
        <div class="value" part="method">${value(quoted ? methodsOf(ctx, quoted) : nothing)}</div>
      </div>
      ${
        act ??
        (lack
          ? html`<p class="lack" part="lack">${ui(`lack-${lack}`)}</p>`
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
