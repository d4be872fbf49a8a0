import { html, nothing, type TemplateResult } from 'lit';
import type { Ordering, OrderingController, Proof } from '../../shop/order-controller.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';

type Contact = keyof Ordering['contact'];

/** What still keeps the order from being sent, by field, in the order of the form. */
function lacksOf(ordering: Ordering): readonly (Contact | 'approved')[] {
  const { contact, approved } = ordering;
  const lacks: (Contact | 'approved')[] = [];
  if (!contact.name.trim()) lacks.push('name');
  if (!/^\S+@\S+\.\S+$/.test(contact.email.trim())) lacks.push('email');
  if (!approved) lacks.push('approved');
  return lacks;
}

/** Who orders, and the proof to approve. */
export function orderPart(
  ctx: SlipContext,
  ordering: Ordering,
  controller: OrderingController,
): TemplateResult {
  const { ui } = ctx.words;
  const { set } = controller;
  const { problem } = ordering;
  const still = ctx.disabled || ordering.step === 'sending';
  const lacks = ordering.tried ? lacksOf(ordering) : [];
  const refused = problem?.faults.map((fault) => fault.at) ?? [];
  const field = (key: Contact, type: string, optional = false): TemplateResult => {
    const fault =
      lacks.includes(key) || (refused.includes(`contact.${key}`) && (key === 'name' || key === 'email'))
        ? ui(key === 'name' ? 'fault-name' : 'fault-email')
        : problem?.faults.find((entry) => entry.at === `contact.${key}`)?.message;
    return html`<div><label><span>${ui(key)} ${optional ? html`<span class="note">(${ui('optional')})</span>` : nothing}</span>
      <input class="field" type=${type} name=${key} autocomplete=${key === 'phone' ? 'tel' : key} ?required=${!optional} maxlength="254" ?disabled=${ctx.disabled}
        aria-invalid=${fault !== undefined} aria-describedby=${fault ? `fault-${key}` : nothing} .value=${ordering.contact[key]}
        @input=${(event: Event) => set({ contact: { ...ordering.contact, [key]: (event.target as HTMLInputElement).value } })} /></label>
      ${fault ? html`<span class="fault" id="fault-${key}">${fault}</span>` : nothing}</div>`;
  };
  return html`<form class="stack row" part="order" id="order-form" novalidate
    @submit=${(event: Event) => {
      event.preventDefault();
      const first = lacksOf(ordering)[0];
      set({ tried: true });
      if (first) ((event.target as HTMLFormElement).elements.namedItem(first) as HTMLElement).focus();
      else void controller.place();
    }}>
    <div class="acts"><button class="plain" type="button" ?disabled=${still} @click=${controller.back}>${ui('back-to-slip')}</button></div>
    <h3 id="order-title" tabindex="-1">${ui('your-order')}</h3>
    <div class="two">${field('name', 'text')}${field('email', 'email')}${field('phone', 'tel', true)}</div>
    <label><span>${ui('note')} <span class="note">(${ui('optional')})</span></span><textarea class="field" rows="2" maxlength="1000" ?disabled=${ctx.disabled} .value=${ordering.contact.note}
      @input=${(event: Event) => set({ contact: { ...ordering.contact, note: (event.target as HTMLTextAreaElement).value } })}></textarea></label>
    <div class="room"><div class="row-title">${ui('proof')}</div>
    ${ordering.proofsMissing ? html`<p class="note">${ui('proof-missing')}</p>` : html`<div class="proofs">${ordering.proofs.map((proof) => proofPart(ctx, proof))}</div>`}</div>
    <div><label class="check"><input type="checkbox" name="approved" required ?disabled=${ctx.disabled} .checked=${ordering.approved}
      aria-invalid=${lacks.includes('approved')} aria-describedby=${lacks.includes('approved') ? 'fault-approved' : nothing}
      @change=${(event: Event) => set({ approved: (event.target as HTMLInputElement).checked })} /><span>${ui('approve')}</span></label>
      ${lacks.includes('approved') ? html`<span class="fault" id="fault-approved">${ui('fault-approve')}</span>` : nothing}</div>
  </form>`;
}

/** A proof, or its room while it is drawn. */
function proofPart(ctx: SlipContext, { title, name, widthMm, heightMm, drawn }: Proof): TemplateResult {
  const { ui } = ctx.words;
  return html`<figure>${
    drawn
      ? html`<img src=${drawn.url} width=${widthMm} height=${heightMm} alt=${ui('proof-of', { name: title })} />`
      : html`<svg viewBox="0 0 ${widthMm} ${heightMm}" aria-hidden="true"></svg><p class="note" role="status">${ui('proof-coming')}</p>`
  }<figcaption>${title}${name === undefined ? nothing : html`<br />${ui('proof-name', { text: name })}`}</figcaption></figure>`;
}

/** Why the order was not taken; null where a field says it. */
export const refusalOf = ({ problem }: Ordering): ShopProblem | null =>
  problem?.faults.some(({ at }) => at.startsWith('contact.')) ? null : problem;

/** The button that orders; it stands at the slip's foot. */
export function placeButton(ctx: SlipContext, ordering: Ordering): TemplateResult {
  const { ui } = ctx.words;
  const { answer, fresh } = ctx.quote;
  const quoted = answer?.kind === 'quote' ? answer : null;
  const sending = ordering.step === 'sending';
  return html`<button class="main stacked" type="submit" form="order-form" part="place-order" aria-disabled=${sending} ?disabled=${ctx.disabled || !fresh || !quoted}>
    <span class=${sending ? 'unseen' : ''}>${ui('place-order', { total: quoted?.total ?? null })}</span><span class=${sending ? '' : 'unseen'}>${ui('ordering')}</span></button>`;
}
