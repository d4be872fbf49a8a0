import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer } from '../../src/contract/index.ts';
import { lacking } from '../controllers/draft.ts';
import type { SlipContext } from './context.ts';

/** The foot, always in view: method, unit price, total and ready day; "why" unfolds above it. */
export function footPart(ctx: SlipContext, toOrder: () => void, ordering: boolean): TemplateResult {
  const { ui } = ctx.words;
  const { answer, fresh, working, problem } = ctx.quote;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const refused = fresh && answer?.kind === 'refusal' ? answer : null;
  const lack = ctx.draft.lines.map(lacking).find((entry) => entry !== null) ?? null;
  const open = ctx.isOpen('why');
  const value = (content: unknown): unknown =>
    quoted ? content : html`<span class="blank-value" aria-hidden="true"></span>`;
  return html`<div class="foot" part="foot">
    ${
      problem
        ? html`<div class="alert quiet" role="status">${ctx.words.problem(problem.code)}
            ${problem.faults.slice(0, 3).map((fault) => html`<div class="note">${fault.at}: ${fault.message}</div>`)}</div>`
        : nothing
    }
    ${
      refused
        ? html`<div class="alert" part="refusal">
            <ul>${refused.reasons.map((entry) => html`<li>${ctx.words.reason(entry)}</li>`)}</ul>
            ${refused.nearest.length > 0 ? html`<div>${ui('what-would-help')}<ul>${refused.nearest.map((entry) => html`<li>${ctx.words.reason(entry)}</li>`)}</ul></div>` : nothing}
          </div>`
        : nothing
    }
    ${open && quoted ? (ctx.later.why.value?.whyPart(ctx, quoted) ?? nothing) : nothing}
    <div class="answer" ?data-stale=${!fresh && quoted !== null} aria-busy=${working ? 'true' : 'false'}>
      <div><div class="label">${ui('method')}</div><div class="value" part="method">${value(quoted ? methodsOf(ctx, quoted) : nothing)}</div></div>
      <div><div class="label">${ui(quoted && quoted.lines.length > 1 ? 'unit-price-from' : 'unit-price')}</div>
        <div class="value" part="unit-price">${value(quoted ? ctx.say.money(lowestUnit(quoted)) : nothing)}</div></div>
      <div><div class="label">${ui('ready')}</div><div class="value" part="ready-day">${value(quoted ? ctx.say.day(quoted.promise.day) : nothing)}</div></div>
    </div>
    <div class="foot-acts">
      <button class="plain" type="button" aria-expanded=${open ? 'true' : 'false'} ?disabled=${!quoted} @click=${() => ctx.toggle('why')}>${ui('why')}</button>
      <span class="answer" ?data-stale=${!fresh && quoted !== null}><span><span class="label">${ui('total')}</span>
        <span class="value big" part="total">${value(quoted ? ctx.say.money(quoted.total) : nothing)}</span></span></span>
      ${
        ordering
          ? nothing
          : lack
            ? html`<p class="lack" part="lack">${ui(`lack-${lack}`)}</p>`
            : html`<button class="main" type="button" part="order-button" ?disabled=${ctx.disabled || !fresh || !quoted} @click=${toOrder}>${ui('to-order')}</button>`
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
