import type { OrderPlaced, QuoteResponse } from '../src/contract/index.ts';
import type { Draft } from './draft/draft.ts';
import type { ShopProblem } from './shop/shop-api.ts';

/** The customer changed the slip. Not fired for changes the page makes through `value`. */
export class PlatenChangeEvent extends Event {
  readonly draft: Draft;
  constructor(draft: Draft) {
    super('platen-change', { bubbles: true, composed: true });
    this.draft = draft;
  }
}

/** A fresh answer for the slip: a quote, or a refusal with reasons. */
export class PlatenQuoteEvent extends Event {
  readonly answer: QuoteResponse;
  constructor(answer: QuoteResponse) {
    super('platen-quote', { bubbles: true, composed: true });
    this.answer = answer;
  }
}

/** The shop accepted the order. */
export class PlatenOrderEvent extends Event {
  readonly order: OrderPlaced;
  constructor(order: OrderPlaced) {
    super('platen-order-placed', { bubbles: true, composed: true });
    this.order = order;
  }
}

/** A request failed: a problem from the shop, or no connection. The slip is unchanged. */
export class PlatenProblemEvent extends Event {
  readonly problem: ShopProblem;
  constructor(problem: ShopProblem) {
    super('platen-problem', { bubbles: true, composed: true });
    this.problem = problem;
  }
}

declare global {
  interface HTMLElementEventMap {
    'platen-change': PlatenChangeEvent;
    'platen-quote': PlatenQuoteEvent;
    'platen-order-placed': PlatenOrderEvent;
    'platen-problem': PlatenProblemEvent;
  }
}
