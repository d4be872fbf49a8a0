import type { ReactiveControllerHost } from 'lit';

/** What is open and shown on the slip, apart from the draft. */
export class ViewState {
  /** month the calendar shows, `2026-03`; empty for the month of the chosen day, or the current one. */
  month = '';
  linkCopied = false;
  readonly #host: ReactiveControllerHost;
  readonly #open = new Set<string>();
  readonly #notices = new Map<string, string>();
  readonly #shownNames = new Map<string, number>();

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
  }

  isOpen = (key: string): boolean => this.#open.has(key);

  toggle = (key: string, open = !this.#open.has(key)): void => {
    if (open) this.#open.add(key);
    else this.#open.delete(key);
    this.#host.requestUpdate();
  };

  notice = (key: string): string => this.#notices.get(key) ?? '';

  setNotice = (key: string, text: string): void => {
    this.#notices.set(key, text);
    this.#host.requestUpdate();
  };

  /** Index of the name of a line that the drawing shows; counts on past the last name, default 0. */
  shownName = (line: string): number => this.#shownNames.get(line) ?? 0;

  showName = (line: string, index: number): void => {
    this.#shownNames.set(line, index);
    this.#host.requestUpdate();
  };

  showMonth = (month: string): void => {
    this.month = month;
    this.#host.requestUpdate();
  };
}
