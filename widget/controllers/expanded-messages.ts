import type { LitElement, ReactiveController } from 'lit';

/**
 * What comes later than this after the customer's last action is not taken for its result and must move nothing, ms.
 * Browsers do not count layout shifts within 500 ms of an action, drawing included.
 */
const PROMPT_MS = 400;

/** Events that show an action of the customer. */
const ACTION_EVENTS = ['keydown', 'pointerdown', 'click', 'input', 'change', 'drop'];

/**
 * Which unsolicited messages (findings, refusals, problems) are expanded. A message that comes promptly after an action
 * is expanded by itself. One that comes later waits for a press, and what it replaces keeps its space.
 */
export class ExpandedMessages implements ReactiveController {
  readonly #host: LitElement;
  #lastActionMs = Number.NEGATIVE_INFINITY;
  /** expanded or not, by place on the slip, then by message id. */
  readonly #places = new Map<string, Map<string, boolean>>();

  /** @param host the element whose events are the customer's actions */
  constructor(host: LitElement) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {
    for (const type of ACTION_EVENTS) this.#host.addEventListener(type, this.#noteAction, true);
  }

  #noteAction = (): void => {
    this.#lastActionMs = performance.now();
  };

  /** Whether the customer has done anything yet. */
  get hasInteracted(): boolean {
    return this.#lastActionMs > 0;
  }

  /** Whether the customer's last action is too long ago to have caused what comes now. */
  get isLate(): boolean {
    return performance.now() > this.#lastActionMs + PROMPT_MS;
  }

  /** Of the messages now in a place, those that are expanded. A message that went away and comes again is a new one. */
  expandedIn(place: string, ids: readonly string[]): ReadonlySet<string> {
    const before = this.#places.get(place);
    const now = new Map(ids.map((id) => [id, before?.get(id) ?? !this.isLate]));
    this.#places.set(place, now);
    return new Set(ids.filter((id) => now.get(id)));
  }

  /** Expands or collapses all messages now in a place. */
  setExpanded(place: string, expanded: boolean): void {
    const messages = this.#places.get(place);
    for (const id of messages?.keys() ?? []) messages?.set(id, expanded);
    this.#host.requestUpdate();
  }
}
