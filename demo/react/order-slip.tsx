import 'peel-and-platen';
import type { PlatenOrder, PlatenOrderEvent } from 'peel-and-platen/element';
import type { DetailedHTMLProps, HTMLAttributes, ReactElement } from 'react';

type SlipProps = Partial<Pick<PlatenOrder, 'api' | 'shop' | 'theme' | 'units' | 'value' | 'disabled'>> & {
  'onplaten-order-placed'?: (event: PlatenOrderEvent) => void;
};

declare module 'react' {
  namespace JSX {
    interface IntrinsicElements {
      'platen-order': DetailedHTMLProps<HTMLAttributes<PlatenOrder>, PlatenOrder> & SlipProps;
    }
  }
}

/** The order slip in a React page; React 19 sets its properties and listens to its events by itself. */
export function OrderSlip(props: { shop: string; onOrder: (number: string) => void }): ReactElement {
  return (
    <platen-order
      shop={props.shop}
      theme="auto"
      onplaten-order-placed={(event) => props.onOrder(event.order.number)}
    />
  );
}
