import { html, nothing, type TemplateResult } from 'lit';
import type { OrderState, OrderStatus } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';
import { sumEnd } from '../foot/sum-end.ts';

const WAY: readonly OrderState[] = ['accepted', 'in-work', 'packed', 'handed-over'];

/** What the customer sees of a placed order. */
export function statusPart(
  ctx: Pick<SlipContext, 'words' | 'say' | 'text'>,
  status: OrderStatus,
  address: string | null,
  again: (() => void) | null,
): TemplateResult {
  const { ui, state, late } = ctx.words;
  const at = WAY.indexOf(status.state);
  return html`<section class="row" part="status" aria-label=${ui('your-order')}>
    <h2 class="stamp" id="order-stamp" tabindex="-1">${ui('order-number', { number: status.number })}</h2>
    ${again ? html`<p>${ui('order-placed')}</p>` : nothing}
    ${
      at < 0
        ? html`<p><strong>${state(status.state)}</strong></p>`
        : html`<ol class="states" aria-label=${ui('state')}>${WAY.map(
            (step, index) =>
              html`<li class=${index <= at ? 'past' : ''} aria-current=${index === at ? 'step' : nothing}>${state(step)}</li>`,
          )}</ol>`
    }
    <table class="sum"><tbody>
      <tr><td>${ui('ready')}</td><td>${ctx.say.day(status.promisedDay)}</td></tr>
      ${
        status.late
          ? html`<tr><td>${ui('now-ready')}</td><td><strong>${status.late.until ? ctx.say.day(status.late.until) : late('no-day-yet')}</strong></td></tr>`
          : nothing
      }
      ${status.lines.map(
        (line) =>
          html`<tr><td>${ctx.say.n(line.pieces)} × ${ctx.text(line.blank)}, ${ctx.text(line.color)}<div class="note">${[line.finish, ...line.methods].map((part) => ctx.text(part)).join(' · ')}</div></td><td>${ctx.say.money(line.total)}</td></tr>`,
      )}
      ${sumEnd(ctx, status)}
    </tbody></table>
    ${
      status.late
        ? html`<p class="alert quiet">${late('not-kept')}${status.late.because ? ` ${late(status.late.because)}` : ''}</p>`
        : nothing
    }
    <div class="acts">
      ${address ? html`<a href=${address}>${ui('status-page')}</a>` : nothing}
      ${again ? html`<button class="plain" type="button" @click=${again}>${ui('new-slip')}</button>` : nothing}
    </div>
  </section>`;
}
