import { html, nothing, type TemplateResult } from 'lit';
import type { DraftEditor } from '../draft/draft-editor.ts';
import { LINES_MAX } from '../draft/draft-limits.ts';
import type { OrderController } from '../shop/order-controller.ts';
import type { SlipContext } from './context.ts';
import { footPart } from './foot/foot.ts';
import { deliveryRow } from './rows/delivery-row.ts';
import { linePart } from './rows/line.ts';

/** What the sheet itself needs and can do, besides what its parts find in the context. */
export type SheetActions = {
  readonly editor: DraftEditor;
  /** null until the customer first goes to the order. */
  readonly order: OrderController | null;
  addLine(): void;
  toOrder(): void;
  startAgain(): void;
  statusAddress(number: string, key: string, fallback: string): string;
  /** month the calendar shows, `2026-03`; empty for the month of the chosen day, or the current one. */
  readonly month: string;
  showMonth(month: string): void;
  readonly linkCopied: boolean;
  /** browser storage is full or forbidden. */
  readonly notSaved: boolean;
  copyLink(): void;
};

/** The slip's sheet: its lines, delivery and day, and the answer at its foot; or the order placed. */
export function sheet(ctx: SlipContext, actions: SheetActions): TemplateResult {
  const { ui } = ctx.words;
  const { editor, order } = actions;
  const state = order && order.state.step !== 'closed' ? order.state : null;
  const placed = state?.step === 'placed' ? state.placed : null;
  if (placed)
    return html`<div class="slip" part="slip">${ctx.deferred.orderStatus.value?.orderStatusPart(
      ctx,
      placed.status,
      actions.statusAddress(placed.number, placed.statusKey, placed.statusUrl),
      actions.startAgain,
    )}</div>`;
  const empty = ctx.catalog.blanks.length === 0;
  return html`<div class="slip" part="slip">
    <div class="slip-head">
      <h2><slot name="heading">${ui('slip')}</slot></h2>
      <button class="plain" type="button" ?disabled=${!editor.canUndo || ctx.disabled || ctx.ordering} @click=${editor.undo}>${ui('undo')}</button>
      <button class="plain" type="button" ?disabled=${!editor.canRedo || ctx.disabled || ctx.ordering} @click=${editor.redo}>${ui('redo')}</button>
    </div>
    ${
      empty
        ? html`<p class="nothing">${ui('no-items')}</p>`
        : !order || !state
          ? rows(ctx, actions)
          : ctx.deferred.orderForm.value?.orderForm(ctx, state, order)
    }
    ${
      empty
        ? nothing
        : footPart(
            ctx,
            actions.toOrder,
            state ? ctx.deferred.orderForm.value?.placeOrderButton(ctx, state) : undefined,
            state && ctx.deferred.orderForm.value?.orderProblem(state),
          )
    }
  </div>`;
}

function rows(ctx: SlipContext, actions: SheetActions): TemplateResult {
  const { ui } = ctx.words;
  const { draft } = ctx;
  // only while the calendar is open: creating a date format takes longer than drawing the rest of the slip
  const today = ctx.isOpen('days') ? todayIn(ctx.catalog.shop.timeZone) : '';
  const month = actions.month || (draft.neededBy ?? today).slice(0, 7);
  return html`${draft.lines.map((line, index) => linePart(ctx, line, index))}
    <div class="row no-print">
      <button class="box" type="button" ?disabled=${ctx.disabled || draft.lines.length >= LINES_MAX}
        @click=${actions.addLine}>${ui('add-line')}</button>
    </div>
    ${deliveryRow(ctx, today, month, actions.showMonth)}
    <div class="row acts no-print">
      <button class="plain" type="button" @click=${actions.copyLink}>${ui(actions.linkCopied ? 'link-copied' : 'copy-link')}</button>
      <button class="plain" type="button" @click=${() => print()}>${ui('print')}</button>
    </div>
    ${actions.notSaved ? html`<p class="note" role="status" part="unkept">${ui('not-saved')}</p>` : nothing}
    <slot name="after"></slot>`;
}

/** Today's date in a time zone, `2026-03-29`. */
function todayIn(timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone }).format(new Date());
}
