/**
 * The script for pages: it defines the tag. It is small and comes first, so it asks at once for all that the first sight
 * of the slip takes, which else would be asked for one after the other: the catalogs of the slips on the page, the words
 * of their languages, and the code.
 */

import type { FirstMessages } from './locales/messages.ts';
import type { EarlySlip } from './shop/prefetched-catalog.ts';

const TAG = 'platen-order';

// The same modules as in locales/index.ts, which arrives with the code.
const firstMessages = import.meta.glob<FirstMessages>('./locales/first/*.ts', { import: 'messages' });

/** A second copy of the script, or another version, leaves the first in force. A server has no elements at all. */
const undefinedYet = (): boolean => globalThis.customElements && !customElements.get(TAG);

/** As `ShopApi` will ask; by another address the answer is not taken, and the slip asks for itself. */
function askForCatalog(slip: EarlySlip): void {
  const api = slip.api ?? slip.getAttribute('api');
  const shop = slip.shop ?? slip.getAttribute('shop');
  if (!shop || slip.platenEarly) return;
  const address = `${(api || location.origin).replace(/\/+$/, '')}/v1/shops/${encodeURIComponent(shop)}/catalog`;
  const answer = fetch(address, { credentials: 'omit' });
  answer.catch(() => {}); // told when the slip takes it, or never
  slip.platenEarly = { address, answer };
}

/** A guess: only the slip knows, once it has its code. */
function askForWords(slip: EarlySlip): void {
  const wanted = slip.closest('[lang]')?.getAttribute('lang') || navigator.language;
  const language = wanted.toLowerCase().split('-')[0];
  const load = firstMessages[`./locales/first/${language}.ts`] ?? firstMessages['./locales/first/en.ts'];
  load?.().catch(() => {}); // the slip asks again
}

if (undefinedYet())
  for (const slip of document.querySelectorAll<EarlySlip>(TAG))
    try {
      askForWords(slip);
      askForCatalog(slip);
    } catch {
      // nothing is lost by what was not asked for early
    }

const { PlatenOrder } = await import('./element.ts');
if (undefinedYet()) customElements.define(TAG, PlatenOrder);

export { PlatenOrder };
