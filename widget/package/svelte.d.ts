import type { PlatenOrder } from 'peel-and-platen';
import type { HTMLAttributes } from 'svelte/elements';
import type { PlatenOrderListeners, PlatenOrderProps } from './props.js';

export * from 'peel-and-platen';

declare module 'svelte/elements' {
  interface SvelteHTMLElements {
    'platen-order': Omit<HTMLAttributes<PlatenOrder>, keyof PlatenOrderProps> &
      PlatenOrderProps &
      PlatenOrderListeners;
  }
}
