import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** How long the slip must stay unchanged before a message is announced, ms: a burst of changes is one message. */
const QUIET_MS = 900;

/** The text of a live region: a message only when it changed, and only once the customer pauses. */
export class Announcer implements ReactiveController {
  /** the text of the live region. */
  text = '';
  readonly #host: ReactiveControllerHost;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #last = '';

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    clearTimeout(this.#timer);
  }

  /**
   * Announces a message after a pause, unless it is the last one again.
   *
   * @param aloud false to only remember it: it describes the slip as the customer found it
   */
  announce(text: string, aloud: boolean): void {
    clearTimeout(this.#timer);
    if (text === this.#last) return;
    if (!aloud) this.#last = text;
    else
      this.#timer = setTimeout(() => {
        this.#last = text;
        this.show(text);
      }, QUIET_MS);
  }

  /** Announces a message at once. */
  show(text: string): void {
    this.text = text;
    this.#host.requestUpdate();
  }
}
