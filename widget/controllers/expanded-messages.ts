import type { LitElement, ReactiveController } from 'lit';

/**
 * What comes later than this after the customer's last act is not taken for its outcome, ms: it must move nothing. The
 * browsers' own count of layout shifts allows 500, drawing included.
 */
const PROMPT_MS = 400;

/** What a customer does, by the events that say so. */
const ACTS = ['keydown', 'pointerdown', 'click', 'input', 'change', 'drop'];

/**
 * Which of the things that come unasked (findings, refusals, problems) are unfolded. One that comes promptly after an
 * act is, by itself; one that comes later waits for a press, and what it takes the place of keeps its room.
 */
export class Unfolding implements ReactiveController {
  readonly #host: LitElement;
  #actedAt = Number.NEGATIVE_INFINITY;
  /** by place on the slip, then by thing. */
  readonly #places = new Map<string, Map<string, boolean>>();

  /** @param host whose events are the customer's acts */
  constructor(host: LitElement) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {
    for (const act of ACTS) this.#host.addEventListener(act, this.#acted, true);
  }

  #acted = (): void => {
    this.#actedAt = performance.now();
  };

  /** Did anything yet. */
  get acted(): boolean {
    return this.#actedAt > 0;
  }

  get late(): boolean {
    return performance.now() > this.#actedAt + PROMPT_MS;
  }

  /** Of the things that are in a place now, those that are unfolded. A thing that went and comes again is new. */
  among(place: string, things: readonly string[]): ReadonlySet<string> {
    const before = this.#places.get(place);
    const now = new Map(things.map((thing) => [thing, before?.get(thing) ?? !this.late]));
    this.#places.set(place, now);
    return new Set(things.filter((thing) => now.get(thing)));
  }

  /** Unfolds or folds all that is in a place now. */
  set(place: string, open: boolean): void {
    const things = this.#places.get(place);
    for (const thing of things?.keys() ?? []) things?.set(thing, open);
    this.#host.requestUpdate();
  }
}
