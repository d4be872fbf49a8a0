import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { QuoteResponse, Slip } from '../../src/contract/index.ts';
import { asProblem, type ShopApi, type ShopProblem } from './shop-api.ts';

/** What the foot may show. `answer` is kept while a newer one is fetched, but then `fresh` is false. */
export type QuoteView = {
  readonly answer: QuoteResponse | null;
  readonly fresh: boolean;
  readonly working: boolean;
  readonly problem: ShopProblem | null;
};

/** While a hand drags, one question this often is enough, ms; the last one is always asked. */
const PACE_MS = 40;
const RENEW_BEFORE_MS = 15_000;
const LONGEST_TIMER_MS = 2 ** 31 - 1;
const RETRY_FIRST_MS = 1_000;
const RETRY_MOST_MS = 15_000;

/**
 * Keeps the answer in step with the slip: asks at once on a change, cancels the question before, never shows an
 * answer for another slip as fresh, and asks again by itself after a cut connection or when a quote runs out.
 */
export class QuoteController implements ReactiveController {
  #host: ReactiveControllerHost;
  #api: () => ShopApi | null;
  #asked = '';
  #running: AbortController | null = null;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #retryMs = RETRY_FIRST_MS;
  #view: QuoteView = { answer: null, fresh: false, working: false, problem: null };
  #slip: Slip | null = null;
  #askedAt = 0;
  #pace: ReturnType<typeof setTimeout> | undefined;
  /** called once for every fresh answer. */
  onAnswer: ((answer: QuoteResponse, slip: Slip) => void) | null = null;

  constructor(host: ReactiveControllerHost, api: () => ShopApi | null) {
    this.#host = host;
    this.#api = api;
    host.addController(this);
  }

  get view(): QuoteView {
    return this.#view;
  }

  /** The slip that the fresh answer is for; null while there is none. */
  get quotedSlip(): Slip | null {
    return this.#view.fresh ? this.#slip : null;
  }

  hostDisconnected(): void {
    this.#running?.abort();
    clearTimeout(this.#retry);
    clearTimeout(this.#pace);
    this.#asked = '';
  }

  #show(view: QuoteView): void {
    this.#view = view;
    this.#host.requestUpdate();
  }

  /** Tells what is on the slip now. Asks only when it differs from what was asked last. */
  ask(slip: Slip | null): void {
    const text = slip ? JSON.stringify(slip) : '';
    if (text === this.#asked) return;
    this.#asked = text;
    this.#slip = slip;
    this.#running?.abort();
    clearTimeout(this.#retry);
    this.#retryMs = RETRY_FIRST_MS;
    if (!slip) {
      this.#running = null;
      this.#show({ answer: null, fresh: false, working: false, problem: null });
      return;
    }
    this.#show({ ...this.#view, fresh: false, working: true, problem: null });
    clearTimeout(this.#pace);
    const wait = Math.max(0, this.#askedAt + PACE_MS - performance.now());
    if (wait === 0) void this.#fetch(slip, text);
    else this.#pace = setTimeout(() => void this.#fetch(slip, text), wait);
  }

  /** Asks again for the same slip: the quote ran out, or the connection is back. */
  again(): void {
    if (!this.#slip) return;
    this.#running?.abort();
    clearTimeout(this.#retry);
    void this.#fetch(this.#slip, this.#asked);
  }

  /** Asks briefly for another slip beside the answer to this one, and gives up with it; null: not to be had. */
  async beside(answer: QuoteResponse, slip: Slip, take: (then: QuoteResponse | null) => void): Promise<void> {
    if (this.#view.answer !== answer) return;
    take(
      (await this.#api()
        ?.quote(slip, this.#running?.signal, true)
        .catch(() => null)) ?? null,
    );
    this.#host.requestUpdate();
  }

  /** Takes an answer that came by another way (a conflict when ordering). */
  take(answer: QuoteResponse): void {
    this.#running?.abort();
    this.#running = null;
    clearTimeout(this.#retry);
    if (answer.kind === 'quote') this.#renewAt(answer.validUntil);
    this.#show({ answer, fresh: true, working: false, problem: null });
  }

  /** A quote that runs out is asked for again, shortly before. */
  #renewAt(validUntil: string): void {
    const wait = Date.parse(validUntil) - Date.now() - RENEW_BEFORE_MS;
    if (Number.isFinite(wait))
      this.#retry = setTimeout(() => this.again(), Math.min(Math.max(wait, PACE_MS), LONGEST_TIMER_MS));
  }

  async #fetch(slip: Slip, text: string): Promise<void> {
    const api = this.#api();
    if (!api) return;
    this.#askedAt = performance.now();
    const running = new AbortController();
    this.#running = running;
    this.#show({ ...this.#view, fresh: false, working: true });
    try {
      const answer = await api.quote(slip, running.signal);
      if (running.signal.aborted || text !== this.#asked) return;
      this.#retryMs = RETRY_FIRST_MS;
      this.#show({ answer, fresh: true, working: false, problem: null });
      if (answer.kind === 'quote') this.#renewAt(answer.validUntil);
      this.onAnswer?.(answer, slip);
    } catch (error) {
      if (running.signal.aborted || text !== this.#asked) return;
      const problem = asProblem(error);
      this.#show({ ...this.#view, fresh: false, working: false, problem });
      const passing =
        problem.code === 'offline' || problem.code === 'busy' || problem.code === 'too-many-requests';
      if (passing) {
        const wait = problem.retryAfterS ? problem.retryAfterS * 1000 : this.#retryMs;
        this.#retry = setTimeout(() => this.again(), wait);
        this.#retryMs = Math.min(this.#retryMs * 2, RETRY_MOST_MS);
      }
    }
  }
}
