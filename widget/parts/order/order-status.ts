import { html, nothing, type TemplateResult } from 'lit';
import type { OrderState, OrderStatus } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';
import { sumFooter } from '../foot/sum-footer.ts';

const STEPS: readonly OrderState[] = ['accepted', 'in-work', 'packed', 'handed-over'];

/** A placed order: its state, day, lines and total. */
export function orderStatusPart(
  ctx: Pick<SlipContext, 'words' | 'format' | 'text'>,
  status: OrderStatus,
  address: string | null,
  startAgain: (() => void) | null,
): TemplateResult {
  const { ui, state, late } = ctx.words;
  const at = STEPS.indexOf(status.state);
  return html`<section class="row" part="status" aria-label=${ui('your-order')}>
    <h2 class="stamp" id="order-stamp" tabindex="-1">${ui('order-number', { number: status.number })}</h2>
    ${startAgain ? html`<p>${ui('order-placed')}</p>` : nothing}
    ${
      at < 0
        ? html`<p><strong>${state(status.state)}</strong></p>`
        : html`<ol class="states" aria-label=${ui('state')}>${STEPS.map(
            (step, index) =>
              html`<li class=${index <= at ? 'past' : ''} aria-current=${index === at ? 'step' : nothing}>${state(step)}</li>`,
          )}</ol>`
    }
    <table class="sum"><tbody>
      <tr><td>${ui('ready')}</td><td>${ctx.format.day(status.promisedDay)}</td></tr>
      ${
        status.late
          ? html`<tr><td>${ui('now-ready')}</td><td><strong>${status.late.until ? ctx.format.day(status.late.until) : late('no-day-yet')}</strong></td></tr>`
          : nothing
      }
      ${status.lines.map(
        (line) =>
          html`<tr><td>${ctx.format.n(line.pieces)} × ${ctx.text(line.blank)}, ${ctx.text(line.color)}<div class="note">${[line.finish, ...line.methods].map((part) => ctx.text(part)).join(' · ')}</div></td><td>${ctx.format.money(line.total)}</td></tr>`,
      )}
      ${sumFooter(ctx, status)}
    </tbody></table>
    ${
      status.late
        ? html`<p class="alert quiet">${late('not-kept')}${status.late.because ? ` ${late(status.late.because)}` : ''}</p>`
        : nothing
    }
    <div class="acts">
      ${address ? html`<a href=${address}>${ui('status-page')}</a>` : nothing}
      ${startAgain ? html`<button class="plain" type="button" @click=${startAgain}>${ui('new-slip')}</button>` : nothing}
    </div>
  </section>`;
}
