import type { PlatenOrder } from 'peel-and-platen';
import type { DetailedHTMLProps, HTMLAttributes } from 'react';
import type { PlatenOrderListeners, PlatenOrderProps } from './props.js';

export * from 'peel-and-platen';

declare module 'react' {
  namespace JSX {
    interface IntrinsicElements {
      'platen-order': DetailedHTMLProps<HTMLAttributes<PlatenOrder>, PlatenOrder> &
        PlatenOrderProps &
        PlatenOrderListeners;
    }
  }
}
