/**
 * The package: brings the class and defines the tag. No `await` stands at its top, as older bundlers and `require` take
 * none.
 */
import { PlatenOrder } from './element.ts';

export type {
  PlatenChangeEvent,
  PlatenOrderEvent,
  PlatenProblemEvent,
  PlatenQuoteEvent,
} from './events.ts';
export { PlatenOrder };

// A second copy of the script, or another version, leaves the first in force. A server has no elements at all.
if (globalThis.customElements && !customElements.get('platen-order'))
  customElements.define('platen-order', PlatenOrder);
