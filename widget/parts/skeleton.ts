import { html, type TemplateResult } from 'lit';
import type { Words } from '../locales/words.ts';
import type { ShopProblem } from '../shop/shop-api.ts';

const nbsp = '\u00a0';

/**
 * The slip before its catalog has arrived.
 *
 * @param words undefined before the language has arrived
 * @param problem why there is no catalog
 */
export function skeleton(
  words: Words | undefined,
  problem: ShopProblem | null,
  tryAgain: () => void,
): TemplateResult {
  return html`<div class="drawing" part="drawing"><div class="stage-room"></div></div>
    <div class="slip skeleton" part="slip" aria-busy=${!(words && problem)}>
    <div class="slip-head"><h2><slot name="heading">${words?.ui('slip') ?? nbsp}</slot></h2></div>
    ${
      words && problem
        ? html`<p class="alert" role="alert">${words.problem(problem.code)}</p>
          <button class="box" type="button" @click=${tryAgain}>${words.ui('try-again')}</button>`
        : html`<p class="note">${words?.ui('loading')}</p>`
    }</div>`;
}
