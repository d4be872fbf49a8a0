import { html, nothing, type TemplateResult } from 'lit';
import type { Ordering } from '../controllers/ordering.ts';
import type { SlipContext } from './context.ts';
import { faultNotes } from './fault-notes.ts';

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
  set: (change: Partial<Ordering>) => void,
  place: () => void,
): TemplateResult {
  const { ui } = ctx.words;
  const { problem } = ordering;
  const lacks = ordering.tried ? lacksOf(ordering) : [];
  const refused = problem?.faults.map((fault) => fault.at) ?? [];
  const field = (key: Contact, type: string, optional = false): TemplateResult => {
    const fault =
      lacks.includes(key) || (refused.includes(`contact.${key}`) && (key === 'name' || key === 'email'))
        ? ui(key === 'name' ? 'fault-name' : 'fault-email')
        : problem?.faults.find((entry) => entry.at === `contact.${key}`)?.message;
    return html`<label><span>${ui(key)} ${optional ? html`<span class="note">(${ui('optional')})</span>` : nothing}</span>
      <input class="field" type=${type} name=${key} autocomplete=${key === 'phone' ? 'tel' : key} ?required=${!optional} maxlength="254"
        aria-invalid=${fault ? 'true' : 'false'} aria-describedby=${fault ? `fault-${key}` : nothing} .value=${ordering.contact[key]}
        @input=${(event: Event) => set({ contact: { ...ordering.contact, [key]: (event.target as HTMLInputElement).value } })} />
      ${fault ? html`<span class="fault" id="fault-${key}">${fault}</span>` : nothing}</label>`;
  };
  return html`<form class="stack row" part="order" id="order-form" novalidate
    @submit=${(event: Event) => {
      event.preventDefault();
      const first = lacksOf(ordering)[0];
      set({ tried: true });
      if (first) ((event.target as HTMLFormElement).elements.namedItem(first) as HTMLElement).focus();
      else place();
    }}>
    <div class="acts"><button class="plain" type="button" ?disabled=${ordering.step === 'sending'} @click=${() => set({ step: 'closed', problem: null })}>${ui('back-to-slip')}</button></div>
    <h3 id="order-title" tabindex="-1">${ui('your-order')}</h3>
    <div class="two">${field('name', 'text')}${field('email', 'email')}${field('phone', 'tel', true)}</div>
    <label><span>${ui('note')} <span class="note">(${ui('optional')})</span></span><textarea class="field" rows="2" maxlength="1000" .value=${ordering.contact.note}
      @input=${(event: Event) => set({ contact: { ...ordering.contact, note: (event.target as HTMLTextAreaElement).value } })}></textarea></label>
    <div><div class="row-title">${ui('proof')}</div>
    ${
      ordering.proofsMissing
        ? html`<p class="note">${ui('proof-missing')}</p>`
        : ordering.proofs.length === 0
          ? html`<p class="note" role="status">${ui('proof-coming')}</p>`
          : html`<div class="proofs">${ordering.proofs.map(
              (proof) =>
                html`<figure><img src=${proof.url} alt=${ui('proof-of', { name: proof.title })} /><figcaption>${proof.title}${proof.name ? html`<br />${ui('proof-name', { text: proof.name.text })}` : nothing}</figcaption></figure>`,
            )}</div>`
    }</div>
    <div><label class="check"><input type="checkbox" name="approved" required .checked=${ordering.approved}
      aria-invalid=${lacks.includes('approved') ? 'true' : 'false'} aria-describedby=${lacks.includes('approved') ? 'fault-approved' : nothing}
      @change=${(event: Event) => set({ approved: (event.target as HTMLInputElement).checked })} /><span>${ui('approve')}</span></label>
      ${lacks.includes('approved') ? html`<span class="fault" id="fault-approved">${ui('fault-approve')}</span>` : nothing}</div>
    ${
      problem && !refused.some((at) => at.startsWith('contact.'))
        ? html`<div class="alert" role="alert">${ctx.words.problem(problem.code)} ${faultNotes(problem.faults)}</div>`
        : nothing
    }
  </form>`;
}

/** The button that orders; it stands at the slip's foot. */
export function placeButton(ctx: SlipContext, ordering: Ordering): TemplateResult {
  const { ui } = ctx.words;
  const { answer, fresh } = ctx.quote;
  const quoted = answer?.kind === 'quote' ? answer : null;
  return html`<button class="main" type="submit" form="order-form" part="place-order" ?disabled=${ordering.step === 'sending' || !fresh || !quoted}>
    ${ordering.step === 'sending' ? ui('ordering') : ui('place-order', { total: quoted?.total ?? null })}</button>`;
}
