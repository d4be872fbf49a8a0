/** What makes the slip a field of a form: it sends a value, and may be called unfinished. */
export class FormField {
  /** null where the browser cannot do it, and outside a browser. */
  readonly #internals: ElementInternals | null;

  constructor(element: HTMLElement) {
    this.#internals = typeof element.attachInternals === 'function' ? element.attachInternals() : null;
  }

  get form(): HTMLFormElement | null {
    return this.#internals?.form ?? null;
  }
  get validity(): ValidityState | undefined {
    return this.#internals?.validity;
  }
  get validationMessage(): string {
    return this.#internals?.validationMessage ?? '';
  }
  get willValidate(): boolean {
    return this.#internals?.willValidate ?? false;
  }
  get labels(): NodeList | undefined {
    return this.#internals?.labels;
  }
  check(): boolean {
    return this.#internals?.checkValidity() ?? true;
  }
  report(): boolean {
    return this.#internals?.reportValidity() ?? true;
  }

  /** What the form sends, and the browser gives back after a crash; nothing for an empty slip. */
  send(value: string): void {
    this.#internals?.setFormValue(value === '' ? null : value, value);
  }

  /** Says what is missing, if anything is. @param anchor where the browser points its message. */
  judge(missing: string | null, anchor: () => HTMLElement | null | undefined): void {
    if (missing === null) this.#internals?.setValidity({});
    else this.#internals?.setValidity({ valueMissing: true }, missing, anchor() ?? undefined);
  }
}
