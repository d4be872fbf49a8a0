/** How long the slip must rest before price and day are spoken, ms: a burst of changes is one message. */
const REST_MS = 900;

/** Fills a live region without chatter: only what changed, only once the customer pauses. */
export class Announcer {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #last = '';
  readonly #show: (text: string) => void;

  constructor(show: (text: string) => void) {
    this.#show = show;
  }

  /** @param aloud false: it is as it was when the customer came, and no news */
  say(text: string, aloud: boolean): void {
    clearTimeout(this.#timer);
    if (text === this.#last) return;
    if (!aloud) this.#last = text;
    else
      this.#timer = setTimeout(() => {
        this.#last = text;
        this.#show(text);
      }, REST_MS);
  }

  stop(): void {
    clearTimeout(this.#timer);
  }
}
