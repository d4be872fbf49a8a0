import type { OrderController, OrderHost } from './order-controller.ts';

/** The order, whose code is loaded when the customer first goes to it. */
export class DeferredOrder {
  /** null until then. */
  controller: OrderController | null = null;
  readonly #load: () => Promise<typeof OrderController>;
  readonly #host: OrderHost;

  constructor(load: () => Promise<typeof OrderController>, host: OrderHost) {
    this.#load = load;
    this.#host = host;
  }

  /** Whether the customer is ordering, or has ordered. */
  get isOpen(): boolean {
    return (this.controller?.state.step ?? 'closed') !== 'closed';
  }

  /** Goes to the order; does nothing if the code does not arrive. */
  async open(): Promise<void> {
    const Controller = await this.#load().catch(() => null);
    if (!Controller) return;
    this.controller ??= new Controller(this.#host);
    await this.controller.open();
  }

  close(): void {
    this.controller?.close();
  }
}
