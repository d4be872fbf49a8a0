/**
 * The script for pages: it defines the tag. It is small and arrives first, so it requests at once all that the first
 * sight of the slip needs, which would otherwise be requested one after the other: the code, the catalogs of the slips
 * on the page, and the words of their languages.
 *
 * It has no top-level await: with one, the bundler can no longer put the code of the first sight into one file.
 */
import type { FirstMessages } from './locales/messages.ts';
import type { EarlySlip } from './shop/prefetched-catalog.ts';

const TAG = 'platen-order';

// The same modules as in locales/index.ts, which arrives with the code.
const firstMessages = import.meta.glob<FirstMessages>('./locales/first/*.ts', { import: 'messages' });

/** As `ShopApi` will ask; if its address turns out to be another one, the slip ignores this answer and asks again. */
function prefetchCatalog(slip: EarlySlip): void {
  const api = slip.api ?? slip.getAttribute('api');
  const shop = slip.shop ?? slip.getAttribute('shop');
  if (!shop || slip.platenEarly) return;
  const address = `${(api || location.origin).replace(/\/+$/, '')}/v1/shops/${encodeURIComponent(shop)}/catalog`;
  const answer = fetch(address, { credentials: 'omit' });
  answer.catch(() => {}); // reported when the slip takes the answer, or never
  slip.platenEarly = { address, answer };
}

/** A guess: only the slip's own code knows the language for certain. */
function prefetchMessages(slip: EarlySlip): void {
  const wanted = slip.closest('[lang]')?.getAttribute('lang') || navigator.language;
  const language = wanted.toLowerCase().split('-')[0];
  const load = firstMessages[`./locales/first/${language}.ts`] ?? firstMessages['./locales/first/en.ts'];
  load?.().catch(() => {}); // the slip asks again
}

if (!customElements.get(TAG))
  for (const slip of document.querySelectorAll<EarlySlip>(TAG))
    try {
      prefetchMessages(slip);
      prefetchCatalog(slip);
    } catch {
      // prefetching only saves time; the slip asks for itself
    }

void import('./element.ts').then(({ PlatenOrder }) => {
  // A second copy of the script, or another version, leaves the first in force.
  if (!customElements.get(TAG)) customElements.define(TAG, PlatenOrder);
});
