import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { OrderStatus } from '../../src/contract/index.ts';
import { asProblem, type ShopApi, type ShopProblem } from './shop-api.ts';

/** How often the status of an order is requested. */
const POLL_MS = 30_000;

/** Polls the status of an order placed earlier. */
export class OrderStatusPoll implements ReactiveController {
  #host: ReactiveControllerHost;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #running: AbortController | null = null;
  status: OrderStatus | null = null;
  problem: ShopProblem | null = null;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#running?.abort();
    clearTimeout(this.#timer);
  }

  /** Polls until the element is disconnected, the order is not found or another order is followed. */
  follow(api: ShopApi, number: string, key: string): void {
    this.hostDisconnected();
    this.#running = new AbortController();
    void this.#poll(api, number, key, this.#running.signal);
  }

  async #poll(api: ShopApi, number: string, key: string, signal: AbortSignal): Promise<void> {
    try {
      this.status = await api.status(number, key, signal);
      this.problem = null;
    } catch (error) {
      if (signal.aborted) return;
      this.problem = asProblem(error);
    }
    if (this.problem?.code !== 'not-found')
      this.#timer = setTimeout(() => void this.#poll(api, number, key, signal), POLL_MS);
    this.#host.requestUpdate();
  }
}
