import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer } from '../../src/contract/index.ts';
import { lacking } from '../controllers/draft.ts';
import type { SlipContext } from './context.ts';
import { whatChanges } from './finish-row.ts';

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
    ${open && quoted ? why(ctx, quoted) : nothing}
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
          : html`<button class="main" type="button" part="order-button" ?disabled=${ctx.disabled || !fresh || !quoted || lack !== null} @click=${toOrder}>${ui('to-order')}</button>`
      }
    </div>
    ${lack ? html`<p class="note" part="lack">${ui(`lack-${lack}`)}</p>` : nothing}
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

function why(ctx: SlipContext, quoted: QuoteAnswer): TemplateResult {
  const { ui, reason, charge } = ctx.words;
  const others = quoted.instead.filter((entry) => entry.change.kind !== 'finish');
  return html`<div class="unfold" part="why" tabindex="0" role="region" aria-label=${ui('why')}>
    ${quoted.because.length > 0 ? html`<h4>${ui('because')}</h4><ul>${quoted.because.map((entry) => html`<li>${reason(entry)}</li>`)}</ul>` : nothing}
    <h4>${ui('sum')}</h4>
    <table class="sum">
      <tbody>
        ${quoted.lines.map((line) => {
          const draft = ctx.draft.lines.find((entry) => entry.id === line.id);
          const blank = draft ? ctx.blankOf(draft) : undefined;
          const sizeName = (id: string): string => {
            const size = blank?.sizes.find((entry) => entry.id === id);
            return size ? ctx.text(size.name) : id;
          };
          return html`${line.sizes.map(
            (size) =>
              html`<tr><td>${blank ? ctx.text(blank.name) : line.id}, ${sizeName(size.size)}: ${ctx.say.n(size.count)} × ${ctx.say.money(size.unit)}</td><td>${ctx.say.money(size.amount)}</td></tr>`,
          )}${line.charges.map((entry) => html`<tr><td>${charge(entry.code, entry.params)}</td><td>${ctx.say.money(entry.amount)}</td></tr>`)}`;
        })}
        ${quoted.fees.map((fee) => html`<tr><td>${charge(fee.code, fee.params)}</td><td>${ctx.say.money(fee.amount)}</td></tr>`)}
        <tr><td>${ui(quoted.tax.included ? 'tax-included' : 'tax', { rate: quoted.tax.rate })}</td><td>${ctx.say.money(quoted.tax.amount)}</td></tr>
        <tr class="grand"><th scope="row">${ui('total')}</th><td>${ctx.say.money(quoted.total)}</td></tr>
      </tbody>
    </table>
    ${
      others.length > 0
        ? html`<h4>${ui('instead')}</h4><ul>${others.map(
            (other) => html`<li>${ui(`change-${other.change.kind}`, { ...other.change })}
              ${other.possible ? html`<strong>${ctx.say.moreOrLess(other.difference)}</strong>` : nothing}
              <span class="note">${whatChanges(ctx, other)}</span></li>`,
          )}</ul>`
        : nothing
    }
  </div>`;
}
