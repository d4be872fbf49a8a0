import { html, type TemplateResult } from 'lit';

/** Where the faults of the fields around it are said. @param id unique on the slip */
export const faultPlace = (id: string): TemplateResult =>
  html`<p class="fault" id=${id} role="alert" data-faults></p>`;

/** What stood in the fields when they were found wrong. */
const judged = new WeakMap<Element, string>();

/** Takes back what was said of fields that were given something else meanwhile, from the drawing say, or by undoing. */
export function settle(root: ParentNode): void {
  for (const field of root.querySelectorAll<HTMLInputElement>('[aria-invalid="true"]'))
    if ((judged.get(field) ?? field.value) !== field.value) judge(field, '');
}

/**
 * Marks a field right or wrong and says what is wrong beside it, where it stays until it is mended.
 *
 * @param fault in the customer's language; empty when the field is right
 */
export function judge(field: HTMLInputElement | HTMLTextAreaElement, fault: string): void {
  field.setAttribute('aria-invalid', String(fault !== ''));
  field.setCustomValidity(fault);
  judged.set(field, field.value);
  const row = field.closest('.row, .placement');
  const place = row?.querySelector('[data-faults]');
  if (!row || !place) return;
  if (fault) field.setAttribute('aria-describedby', place.id);
  else field.removeAttribute('aria-describedby');
  const wrong = [...row.querySelectorAll<HTMLInputElement>('[aria-invalid="true"]')];
  const text = [...new Set(wrong.map((one) => one.validationMessage))].join(' ');
  if (place.textContent !== text) place.textContent = text;
}
