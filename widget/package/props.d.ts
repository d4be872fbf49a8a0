import type {
  PlatenChangeEvent,
  PlatenOrder,
  PlatenOrderEvent,
  PlatenProblemEvent,
  PlatenQuoteEvent,
} from 'peel-and-platen';

/** What a framework's template may set on the tag. */
export type PlatenOrderProps = Partial<
  Pick<
    PlatenOrder,
    | 'api'
    | 'shop'
    | 'lang'
    | 'theme'
    | 'units'
    | 'name'
    | 'required'
    | 'disabled'
    | 'assets'
    | 'forgetful'
    | 'orderNumber'
    | 'orderKey'
    | 'statusPage'
  >
> & { value?: string | object | null };

/** What it may listen to. */
export type PlatenOrderEvents = {
  'platen-change': (event: PlatenChangeEvent) => void;
  'platen-quote': (event: PlatenQuoteEvent) => void;
  'platen-order-placed': (event: PlatenOrderEvent) => void;
  'platen-problem': (event: PlatenProblemEvent) => void;
};

/** The same as attributes of a template: `onplaten-change` and so on. */
export type PlatenOrderListeners = {
  [Name in keyof PlatenOrderEvents as `on${Name}`]?: PlatenOrderEvents[Name];
};
