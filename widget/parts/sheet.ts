import { html, nothing, type TemplateResult } from 'lit';
import type { DraftEditor } from '../draft/draft-editor.ts';
import { LINES_MAX } from '../draft/draft-limits.ts';
import type { OrderingController } from '../shop/order-controller.ts';
import type { SlipContext } from './context.ts';
import { footPart } from './foot/foot.ts';
import { whenRow } from './rows/delivery-row.ts';
import { linePart } from './rows/line.ts';

/** What the paper itself offers, beside what its rows do. */
export type SheetActs = {
  readonly desk: DraftEditor;
  /** null until the customer first went to the order. */
  readonly ordering: OrderingController | null;
  addLine(): void;
  toOrder(): void;
  startAgain(): void;
  statusAddress(number: string, key: string, fallback: string): string;
  /** month shown on the calendar, `2026-03`; empty for that of the chosen day, or this one. */
  readonly month: string;
  showMonth(month: string): void;
  readonly copied: boolean;
  /** the browser has no room to keep the slip in. */
  readonly unkept: boolean;
  copyLink(): void;
};

/** The paper: its lines, how and when it leaves the shop, and the answer at its foot; or the order it became. */
export function sheet(ctx: SlipContext, acts: SheetActs): TemplateResult {
  const { ui } = ctx.words;
  const { desk, ordering } = acts;
  const now = ordering && ordering.now.step !== 'closed' ? ordering.now : null;
  const placed = now?.step === 'placed' ? now.placed : null;
  if (placed)
    return html`<div class="slip" part="slip">${ctx.later.status.value?.statusPart(
      ctx,
      placed.status,
      acts.statusAddress(placed.number, placed.statusKey, placed.statusUrl),
      acts.startAgain,
    )}</div>`;
  const empty = ctx.catalog.blanks.length === 0;
  return html`<div class="slip" part="slip">
    <div class="slip-head">
      <h2><slot name="heading">${ui('slip')}</slot></h2>
      <button class="plain" type="button" ?disabled=${!desk.canUndo || ctx.disabled || ctx.ordering} @click=${desk.undo}>${ui('undo')}</button>
      <button class="plain" type="button" ?disabled=${!desk.canRedo || ctx.disabled || ctx.ordering} @click=${desk.redo}>${ui('redo')}</button>
    </div>
    ${
      empty
        ? html`<p class="nothing">${ui('no-items')}</p>`
        : !ordering || !now
          ? rows(ctx, acts)
          : ctx.later.order.value?.orderPart(ctx, now, ordering)
    }
    ${
      empty
        ? nothing
        : footPart(
            ctx,
            acts.toOrder,
            now ? ctx.later.order.value?.placeButton(ctx, now) : undefined,
            now && ctx.later.order.value?.refusalOf(now),
          )
    }
  </div>`;
}

function rows(ctx: SlipContext, acts: SheetActs): TemplateResult {
  const { ui } = ctx.words;
  const { draft } = ctx;
  // only the open calendar asks for it: making a format takes longer than drawing all the rest
  const today = ctx.isOpen('days') ? dayIn(ctx.catalog.shop.timeZone) : '';
  const month = acts.month || (draft.neededBy ?? today).slice(0, 7);
  return html`${draft.lines.map((line, index) => linePart(ctx, line, index))}
    <div class="row no-print">
      <button class="box" type="button" ?disabled=${ctx.disabled || draft.lines.length >= LINES_MAX}
        @click=${acts.addLine}>${ui('add-line')}</button>
    </div>
    ${whenRow(ctx, today, month, acts.showMonth)}
    <div class="row acts no-print">
      <button class="plain" type="button" @click=${acts.copyLink}>${ui(acts.copied ? 'link-copied' : 'copy-link')}</button>
      <button class="plain" type="button" @click=${() => print()}>${ui('print')}</button>
    </div>
    ${acts.unkept ? html`<p class="note" role="status" part="unkept">${ui('not-saved')}</p>` : nothing}
    <slot name="after"></slot>`;
}

/** The day it is in a time zone, `2026-03-29`. */
function dayIn(timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone }).format(new Date());
}
