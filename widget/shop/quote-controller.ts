import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { QuoteResponse, Slip } from '../../src/contract/index.ts';
import { asProblem, type ShopApi, type ShopProblem } from './shop-api.ts';

/** The state of the quote. The last answer stays while a newer one is loading, and is then not fresh. */
export type QuoteView = {
  readonly answer: QuoteResponse | null;
  readonly isFresh: boolean;
  readonly isLoading: boolean;
  readonly problem: ShopProblem | null;
};

/** Least time between requests while the slip keeps changing, ms; the last change is always quoted. */
const THROTTLE_MS = 40;
/** How long before a quote expires it is renewed. */
const RENEW_BEFORE_MS = 15_000;
/** Longest delay of setTimeout. */
const TIMER_MAX_MS = 2 ** 31 - 1;
const RETRY_FIRST_MS = 1_000;
const RETRY_MAX_MS = 15_000;

/**
 * Keeps the quote up to date with the slip: requests one at every change, cancels the request before it, and requests
 * again after a lost connection and before a quote expires. An answer for another slip is never shown as fresh.
 */
export class QuoteController implements ReactiveController {
  #host: ReactiveControllerHost;
  #api: () => ShopApi | null;
  #requested = '';
  #running: AbortController | null = null;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #retryMs = RETRY_FIRST_MS;
  #view: QuoteView = { answer: null, isFresh: false, isLoading: false, problem: null };
  #slip: Slip | null = null;
  #requestedAtMs = 0;
  #throttle: ReturnType<typeof setTimeout> | undefined;
  /** called for every fresh answer. */
  onAnswer: ((answer: QuoteResponse, slip: Slip) => void) | null = null;

  constructor(host: ReactiveControllerHost, api: () => ShopApi | null) {
    this.#host = host;
    this.#api = api;
    host.addController(this);
  }

  get view(): QuoteView {
    return this.#view;
  }

  /** The slip of the fresh answer; null while there is none. */
  get quotedSlip(): Slip | null {
    return this.#view.isFresh ? this.#slip : null;
  }

  hostDisconnected(): void {
    this.#running?.abort();
    clearTimeout(this.#retry);
    clearTimeout(this.#throttle);
    this.#requested = '';
  }

  #show(view: QuoteView): void {
    this.#view = view;
    this.#host.requestUpdate();
  }

  /** Requests a quote of the slip, unless it is the one last requested. Null clears the quote. */
  request(slip: Slip | null): void {
    const text = slip ? JSON.stringify(slip) : '';
    if (text === this.#requested) return;
    this.#requested = text;
    this.#slip = slip;
    this.#running?.abort();
    clearTimeout(this.#retry);
    this.#retryMs = RETRY_FIRST_MS;
    if (!slip) {
      this.#running = null;
      this.#show({ answer: null, isFresh: false, isLoading: false, problem: null });
      return;
    }
    this.#show({ ...this.#view, isFresh: false, isLoading: true, problem: null });
    clearTimeout(this.#throttle);
    const wait = Math.max(0, this.#requestedAtMs + THROTTLE_MS - performance.now());
    if (wait === 0) void this.#fetch(slip, text);
    else this.#throttle = setTimeout(() => void this.#fetch(slip, text), wait);
  }

  /** Requests a quote of the same slip again. */
  refresh(): void {
    if (!this.#slip) return;
    this.#running?.abort();
    clearTimeout(this.#retry);
    void this.#fetch(this.#slip, this.#requested);
  }

  /**
   * Requests a brief quote of another slip, to compare with `answer`; cancelled together with the quote itself.
   *
   * @param done takes the quote, or null when there is none
   */
  async quoteBriefly(
    answer: QuoteResponse,
    slip: Slip,
    done: (other: QuoteResponse | null) => void,
  ): Promise<void> {
    if (this.#view.answer !== answer) return;
    done(
      (await this.#api()
        ?.quote(slip, this.#running?.signal, true)
        .catch(() => null)) ?? null,
    );
    this.#host.requestUpdate();
  }

  /** Shows an answer that came another way, such as with a conflict when ordering. */
  accept(answer: QuoteResponse): void {
    this.#running?.abort();
    this.#running = null;
    clearTimeout(this.#retry);
    if (answer.kind === 'quote') this.#renewBefore(answer.validUntil);
    this.#show({ answer, isFresh: true, isLoading: false, problem: null });
  }

  /** Renews a quote shortly before it expires. */
  #renewBefore(validUntil: string): void {
    const wait = Date.parse(validUntil) - Date.now() - RENEW_BEFORE_MS;
    if (Number.isFinite(wait))
      this.#retry = setTimeout(() => this.refresh(), Math.min(Math.max(wait, THROTTLE_MS), TIMER_MAX_MS));
  }

  async #fetch(slip: Slip, text: string): Promise<void> {
    const api = this.#api();
    if (!api) return;
    this.#requestedAtMs = performance.now();
    const running = new AbortController();
    this.#running = running;
    this.#show({ ...this.#view, isFresh: false, isLoading: true });
    try {
      const answer = await api.quote(slip, running.signal);
      if (running.signal.aborted || text !== this.#requested) return;
      this.#retryMs = RETRY_FIRST_MS;
      this.#show({ answer, isFresh: true, isLoading: false, problem: null });
      if (answer.kind === 'quote') this.#renewBefore(answer.validUntil);
      this.onAnswer?.(answer, slip);
    } catch (error) {
      if (running.signal.aborted || text !== this.#requested) return;
      const problem = asProblem(error);
      this.#show({ ...this.#view, isFresh: false, isLoading: false, problem });
      const temporary =
        problem.code === 'offline' || problem.code === 'busy' || problem.code === 'too-many-requests';
      if (temporary) {
        const wait = problem.retryAfterS ? problem.retryAfterS * 1000 : this.#retryMs;
        this.#retry = setTimeout(() => this.refresh(), wait);
        this.#retryMs = Math.min(this.#retryMs * 2, RETRY_MAX_MS);
      }
    }
  }
}
