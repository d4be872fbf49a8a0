/** The package's main entry: exports the class and defines the tag. */
import { PlatenOrder } from './element.ts';

export type {
  PlatenChangeEvent,
  PlatenOrderEvent,
  PlatenProblemEvent,
  PlatenQuoteEvent,
} from './events.ts';
export { PlatenOrder };

// Another copy or version that came first stays in force. A server may have no registry of elements at all.
if (globalThis.customElements && !customElements.get('platen-order'))
  customElements.define('platen-order', PlatenOrder);
