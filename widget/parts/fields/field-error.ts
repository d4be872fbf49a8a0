import { html, type TemplateResult } from 'lit';

/** The element that shows the errors of the fields in its row. @param id unique on the slip */
export const fieldErrors = (id: string): TemplateResult =>
  html`<p class="fault" id=${id} role="alert" data-faults></p>`;

/** The value each field had when it was found invalid. */
const invalidValues = new WeakMap<Element, string>();

/** Clears the error of every field whose value was changed since by other means, such as the drawing or undo. */
export function clearStaleErrors(root: ParentNode): void {
  for (const field of root.querySelectorAll<HTMLInputElement>('[aria-invalid="true"]'))
    if ((invalidValues.get(field) ?? field.value) !== field.value) setFieldError(field, '');
}

/**
 * Marks a field valid or invalid, and shows the errors of its row.
 *
 * @param error in the customer's language; empty when the field is valid
 */
export function setFieldError(field: HTMLInputElement | HTMLTextAreaElement, error: string): void {
  field.setAttribute('aria-invalid', String(error !== ''));
  field.setCustomValidity(error);
  invalidValues.set(field, field.value);
  const row = field.closest('.row, .placement');
  const place = row?.querySelector('[data-faults]');
  if (!row || !place) return;
  if (error) field.setAttribute('aria-describedby', place.id);
  else field.removeAttribute('aria-describedby');
  const invalid = [...row.querySelectorAll<HTMLInputElement>('[aria-invalid="true"]')];
  const text = [...new Set(invalid.map((other) => other.validationMessage))].join(' ');
  if (place.textContent !== text) place.textContent = text;
}
