import { html, nothing, type TemplateResult } from 'lit';
import type { OrderController, OrderProgress } from '../../shop/order-controller.ts';
import type { Proof } from '../../shop/proof-views.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';

type Contact = keyof OrderProgress['contact'];

/** The required fields that are missing or invalid, in the order of the form. */
function missingFields(order: OrderProgress): readonly (Contact | 'approved')[] {
  const { contact, approved } = order;
  const missing: (Contact | 'approved')[] = [];
  if (!contact.name.trim()) missing.push('name');
  if (!/^\S+@\S+\.\S+$/.test(contact.email.trim())) missing.push('email');
  if (!approved) missing.push('approved');
  return missing;
}

/** The contact fields, and the proofs to approve. */
export function orderForm(
  ctx: SlipContext,
  order: OrderProgress,
  controller: OrderController,
): TemplateResult {
  const { ui } = ctx.words;
  const { update } = controller;
  const { problem } = order;
  const locked = ctx.disabled || order.step === 'sending';
  const missing = order.tried ? missingFields(order) : [];
  const refusedFields = problem?.faults.map((fault) => fault.at) ?? [];
  const field = (key: Contact, type: string, optional = false): TemplateResult => {
    const error =
      missing.includes(key) ||
      (refusedFields.includes(`contact.${key}`) && (key === 'name' || key === 'email'))
        ? ui(key === 'name' ? 'fault-name' : 'fault-email')
        : problem?.faults.find((entry) => entry.at === `contact.${key}`)?.message;
    return html`<div><label><span>${ui(key)} ${optional ? html`<span class="note">(${ui('optional')})</span>` : nothing}</span>
      <input class="field" type=${type} name=${key} autocomplete=${key === 'phone' ? 'tel' : key} ?required=${!optional} maxlength="254" ?disabled=${ctx.disabled}
        aria-invalid=${error !== undefined} aria-describedby=${error ? `fault-${key}` : nothing} .value=${order.contact[key]}
        @input=${(event: Event) => update({ contact: { ...order.contact, [key]: (event.target as HTMLInputElement).value } })} /></label>
      ${error ? html`<span class="fault" id="fault-${key}">${error}</span>` : nothing}</div>`;
  };
  return html`<form class="stack row" part="order" id="order-form" novalidate
    @submit=${(event: Event) => {
      event.preventDefault();
      const first = missingFields(order)[0];
      update({ tried: true });
      if (first) ((event.target as HTMLFormElement).elements.namedItem(first) as HTMLElement).focus();
      else void controller.place();
    }}>
    <div class="acts"><button class="plain" type="button" ?disabled=${locked} @click=${controller.back}>${ui('back-to-slip')}</button></div>
    <h3 id="order-title" tabindex="-1">${ui('your-order')}</h3>
    <div class="two">${field('name', 'text')}${field('email', 'email')}${field('phone', 'tel', true)}</div>
    <label><span>${ui('note')} <span class="note">(${ui('optional')})</span></span><textarea class="field" rows="2" maxlength="1000" ?disabled=${ctx.disabled} .value=${order.contact.note}
      @input=${(event: Event) => update({ contact: { ...order.contact, note: (event.target as HTMLTextAreaElement).value } })}></textarea></label>
    <div class="room"><div class="row-title">${ui('proof')}</div>
    ${order.proofsMissing ? html`<p class="note">${ui('proof-missing')}</p>` : html`<div class="proofs">${order.proofs.map((proof) => proofPart(ctx, proof))}</div>`}</div>
    <div><label class="check"><input type="checkbox" name="approved" required ?disabled=${ctx.disabled} .checked=${order.approved}
      aria-invalid=${missing.includes('approved')} aria-describedby=${missing.includes('approved') ? 'fault-approved' : nothing}
      @change=${(event: Event) => update({ approved: (event.target as HTMLInputElement).checked })} /><span>${ui('approve')}</span></label>
      ${missing.includes('approved') ? html`<span class="fault" id="fault-approved">${ui('fault-approve')}</span>` : nothing}</div>
  </form>`;
}

/** A proof, or its empty space while the shop draws it. */
function proofPart(ctx: SlipContext, { title, name, widthMm, heightMm, drawn }: Proof): TemplateResult {
  const { ui } = ctx.words;
  return html`<figure>${
    drawn
      ? html`<img src=${drawn.url} width=${widthMm} height=${heightMm} alt=${ui('proof-of', { name: title })} />`
      : html`<svg viewBox="0 0 ${widthMm} ${heightMm}" aria-hidden="true"></svg><p class="note" role="status">${ui('proof-coming')}</p>`
  }<figcaption>${title}${name === undefined ? nothing : html`<br />${ui('proof-name', { text: name })}`}</figcaption></figure>`;
}

/** Why the order was not accepted; null where the error is shown at a field. */
export const orderProblem = ({ problem }: OrderProgress): ShopProblem | null =>
  problem?.faults.some(({ at }) => at.startsWith('contact.')) ? null : problem;

/** The button that places the order; it is in the slip's foot. */
export function placeOrderButton(ctx: SlipContext, order: OrderProgress): TemplateResult {
  const { ui } = ctx.words;
  const { answer, isFresh } = ctx.quote;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const sending = order.step === 'sending';
  return html`<button class="main stacked" type="submit" form="order-form" part="place-order" aria-disabled=${sending} ?disabled=${ctx.disabled || !isFresh || !quoted}>
    <span class=${sending ? 'unseen' : ''}>${ui('place-order', { total: quoted?.total ?? null })}</span><span class=${sending ? '' : 'unseen'}>${ui('ordering')}</span></button>`;
}
