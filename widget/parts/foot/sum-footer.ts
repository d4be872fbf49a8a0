import { html, type TemplateResult } from 'lit';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';

/** The last rows of a price table: fees, tax and total. */
export function sumFooter(
  { words, format }: Pick<SlipContext, 'words' | 'format'>,
  { fees, tax, total }: Pick<QuoteAnswer, 'fees' | 'tax' | 'total'>,
): TemplateResult {
  const { ui, charge } = words;
  return html`${fees.map((fee) => html`<tr><td>${charge(fee.code, fee.params)}</td><td>${format.money(fee.amount)}</td></tr>`)}
    <tr><td>${ui(tax.included ? 'tax-included' : 'tax', { rate: tax.rate })}</td><td>${format.money(tax.amount)}</td></tr>
    <tr class="grand"><th scope="row">${ui('total')}</th><td>${format.money(total)}</td></tr>`;
}
