import { html, nothing, type TemplateResult } from 'lit';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';
import { describeChange } from './describe-change.ts';
import { sumFooter } from './sum-footer.ts';

/** Why this method, price and day: the reasons, the bill, and the alternatives. */
export function reasonsPart(ctx: SlipContext, quoted: QuoteAnswer): TemplateResult {
  const { ui, reason, charge } = ctx.words;
  const { formatter } = ctx.format;
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
              html`<tr><td>${blank ? ctx.text(blank.name) : line.id}, ${sizeName(size.size)}: ${ctx.format.n(size.count)} × ${ctx.format.money(size.unit)}</td><td>${ctx.format.money(size.amount)}</td></tr>`,
          )}${line.charges.map((entry) => html`<tr><td>${charge(entry.code, entry.params)}</td><td>${ctx.format.money(entry.amount)}</td></tr>`)}`;
        })}
        ${sumFooter(ctx, quoted)}
      </tbody>
    </table>
    <p class="note">${ui('price-holds', { until: formatter.instant(quoted.validUntil, ctx.catalog.shop.timeZone) })}</p>
    ${
      others.length > 0
        ? html`<h4>${ui('instead')}</h4><ul>${others.map(
            (other) => html`<li>${ui(`change-${other.change.kind}`, { ...other.change })}
              ${other.possible ? html`<strong>${ctx.format.moreOrLess(other.difference)}</strong>` : nothing}
              <span class="note">${describeChange(ctx, other)}</span></li>`,
          )}</ul>`
        : nothing
    }
  </div>`;
}
