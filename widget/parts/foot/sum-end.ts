import { html, type TemplateResult } from 'lit';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';

/** What comes to the lines of a sum until it makes the total: fees, tax, the total itself. */
export function sumEnd(
  { words, say }: Pick<SlipContext, 'words' | 'say'>,
  { fees, tax, total }: Pick<QuoteAnswer, 'fees' | 'tax' | 'total'>,
): TemplateResult {
  const { ui, charge } = words;
  return html`${fees.map((fee) => html`<tr><td>${charge(fee.code, fee.params)}</td><td>${say.money(fee.amount)}</td></tr>`)}
    <tr><td>${ui(tax.included ? 'tax-included' : 'tax', { rate: tax.rate })}</td><td>${say.money(tax.amount)}</td></tr>
    <tr class="grand"><th scope="row">${ui('total')}</th><td>${say.money(total)}</td></tr>`;
}
