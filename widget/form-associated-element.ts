import { LitElement } from 'lit';

/** An element that is a field of a form: it has a value to submit, may be invalid, and follows a disabled fieldset. */
export abstract class FormAssociatedElement extends LitElement {
  static readonly formAssociated = true;

  /** null on a server and where the browser does not support it. */
  readonly #internals: ElementInternals | null =
    typeof this.attachInternals === 'function' ? this.attachInternals() : null;
  #disabledByForm = false;

  get form(): HTMLFormElement | null {
    return this.#internals?.form ?? null;
  }
  get labels(): NodeList | undefined {
    return this.#internals?.labels;
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
  checkValidity(): boolean {
    return this.#internals?.checkValidity() ?? true;
  }
  reportValidity(): boolean {
    return this.#internals?.reportValidity() ?? true;
  }

  formDisabledCallback(disabled: boolean): void {
    this.#disabledByForm = disabled;
    // Lit drops an update requested while it reflects the attribute, which is when this runs after `disabled` was set.
    queueMicrotask(() => this.requestUpdate());
  }

  /** Whether the element's own attribute or a fieldset disables it, as of its last update. */
  protected get disabledByForm(): boolean {
    return this.#disabledByForm;
  }

  /** Sets what the form submits, and the browser restores after a crash; an empty text submits nothing. */
  protected setFormValue(value: string): void {
    this.#internals?.setFormValue(value === '' ? null : value, value);
  }

  /** @param missing what is missing, in the customer's language; null when the value is valid */
  protected setMissing(missing: string | null): void {
    if (missing === null) this.#internals?.setValidity({});
    // the browser shows its message at the first field
    else this.#internals?.setValidity({ valueMissing: true }, missing, this.#firstField() ?? undefined);
  }

  #firstField(): HTMLElement | null | undefined {
    return this.shadowRoot?.querySelector<HTMLElement>('input:not([tabindex="-1"]), button');
  }
}
