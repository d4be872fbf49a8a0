import { PlatenOrder } from './element.ts';

export { PlatenOrder };

// a second copy of the script, or another version, leaves the first in force
if (!customElements.get('platen-order')) customElements.define('platen-order', PlatenOrder);
