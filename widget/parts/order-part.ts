import { html, nothing, type TemplateResult } from 'lit';
import type { OrderStatus } from '../../src/contract/index.ts';
import type { Ordering } from '../controllers/ordering.ts';
import type { SlipContext } from './context.ts';

/** Who orders, the proof to approve, and the button that orders. */
export function orderPart(
  ctx: SlipContext,
  ordering: Ordering,
  set: (change: Partial<Ordering>) => void,
  place: () => void,
): TemplateResult {
  const { ui } = ctx.words;
  const field = (
    key: keyof Ordering['contact'],
    type: string,
    autocomplete: string,
    required: boolean,
  ): TemplateResult => {
    const fault = ordering.problem?.faults.find((entry) => entry.at === `contact.${key}`);
    return html`<label>${ui(key)}
      <input class="field" type=${type} name=${key} autocomplete=${autocomplete} ?required=${required} maxlength="254"
        aria-invalid=${fault ? 'true' : 'false'} .value=${ordering.contact[key]}
        @input=${(event: Event) => set({ contact: { ...ordering.contact, [key]: (event.target as HTMLInputElement).value } })} />
      ${fault ? html`<span class="alert">${fault.message}</span>` : nothing}</label>`;
  };
  const sending = ordering.step === 'sending';
  const rest = ordering.problem && !ordering.problem.faults.some((entry) => entry.at.startsWith('contact.'));
  return html`<form class="row stack" part="order" novalidate
    @submit=${(event: Event) => {
      event.preventDefault();
      const form = event.target as HTMLFormElement;
      if (form.reportValidity()) place();
    }}>
    <div class="row-title" id="order-title" tabindex="-1">${ui('your-order')}</div>
    <div class="two">${field('name', 'text', 'name', true)}${field('email', 'email', 'email', true)}${field('phone', 'tel', 'tel', false)}</div>
    <label>${ui('note')}<textarea class="field" rows="2" maxlength="1000" .value=${ordering.contact.note}
      @input=${(event: Event) => set({ contact: { ...ordering.contact, note: (event.target as HTMLTextAreaElement).value } })}></textarea></label>
    <div class="row-title">${ui('proof')}</div>
    ${
      ordering.proofsMissing
        ? html`<p class="note">${ui('proof-missing')}</p>`
        : ordering.proofs.length === 0
          ? html`<p class="note" role="status">${ui('proof-coming')}</p>`
          : html`<div class="proofs">${ordering.proofs.map(
              (proof) =>
                html`<figure><img src=${proof.url} alt=${ui('proof-of', { name: proof.title })} /><figcaption>${proof.title}</figcaption></figure>`,
            )}</div>`
    }
    <label class="check"><input type="checkbox" required .checked=${ordering.approved}
      @change=${(event: Event) => set({ approved: (event.target as HTMLInputElement).checked })} /><span>${ui('approve')}</span></label>
    ${
      ordering.problem && rest
        ? html`<div class="alert" role="alert">${ctx.words.problem(ordering.problem.code)}
            ${ordering.problem.faults.map((fault) => html`<div class="note">${fault.at}: ${fault.message}</div>`)}</div>`
        : nothing
    }
    <div class="foot-acts">
      <button class="plain" type="button" ?disabled=${sending} @click=${() => set({ step: 'closed', problem: null })}>${ui('back-to-slip')}</button>
      <button class="main" type="submit" part="place-order" ?disabled=${sending || !ctx.quote.fresh || ctx.quote.answer?.kind !== 'quote'}>
        ${sending ? ui('ordering') : ui('place-order', { total: ctx.quote.answer?.kind === 'quote' ? ctx.quote.answer.total : null })}</button>
    </div>
  </form>`;
}

/** What the customer sees of a placed order. */
export function statusPart(
  ctx: Pick<SlipContext, 'words' | 'say' | 'text'>,
  status: OrderStatus,
  address: string | null,
  again: (() => void) | null,
): TemplateResult {
  const { ui, state } = ctx.words;
  return html`<section class="row" part="status" aria-label=${ui('your-order')}>
    <div class="stamp" id="order-stamp" tabindex="-1">${ui('order-number', { number: status.number })}</div>
    <table class="sum"><tbody>
      <tr><td>${ui('state')}</td><td>${state(status.state)}</td></tr>
      <tr><td>${ui('ready')}</td><td>${ctx.say.day(status.promisedDay)}</td></tr>
      ${status.lateUntil ? html`<tr><td>${ui('now-ready')}</td><td>${ctx.say.day(status.lateUntil)}</td></tr>` : nothing}
      ${status.lines.map(
        (
          line,
        ) => html`<tr><td>${ctx.say.n(line.pieces)} × ${ctx.text(line.blank)}, ${ctx.text(line.color)}, ${ctx.text(line.finish)}<br />
          <span class="note">${[...new Set(line.methods.map((method) => ctx.text(method)))].join(' + ')}</span></td><td>${ctx.say.money(line.total)}</td></tr>`,
      )}
      <tr class="grand"><th scope="row">${ui('total')}</th><td>${ctx.say.money(status.total)}</td></tr>
    </tbody></table>
    ${status.lateCause ? html`<p class="alert quiet">${status.lateCause}</p>` : nothing}
    <div class="acts">
      ${address ? html`<a href=${address}>${ui('status-page')}</a>` : nothing}
      ${again ? html`<button class="plain" type="button" @click=${again}>${ui('new-slip')}</button>` : nothing}
    </div>
  </section>`;
}
