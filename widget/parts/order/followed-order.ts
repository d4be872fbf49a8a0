import { html, nothing, type TemplateResult } from 'lit';
import type { OrderStatus } from '../../../src/contract/index.ts';
import type { LoadedWords } from '../../locales/load-words.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { DeferredParts } from '../deferred-parts.ts';

/** The status of an order placed earlier, in place of a slip. */
export function followedOrder(
  { words, forCurrency }: LoadedWords,
  { orderStatus }: Pick<DeferredParts, 'orderStatus'>,
  text: (text: unknown) => string,
  status: OrderStatus | null,
  problem: ShopProblem | null,
): TemplateResult {
  return html`<div class="slip alone" part="slip">
    ${status ? orderStatus.value?.orderStatusPart({ words, format: forCurrency(status.currency), text }, status, null, null) : nothing}
    ${problem ? html`<p class="alert" role="alert">${words.problem(problem.code)}</p>` : nothing}
    ${!status && !problem ? html`<p class="note" aria-busy="true">${words.ui('loading')}</p>` : nothing}
  </div>`;
}
