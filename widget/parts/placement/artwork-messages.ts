import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';
import { collectMessages } from './collect-messages.ts';
import { setRemedies } from './set-remedies.ts';

/**
 * What the artwork check found, shown beside the artwork, with remedies to compare before and after. One line is always
 * there; a message that comes late appears in it and is expanded by a press, so that nothing below moves.
 */
export function artworkMessages(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
): TemplateResult {
  const { ui, remedy } = ctx.words;
  const place = `found ${line.id} ${placement.id}`;
  const { messages, checking } = collectMessages(ctx, line, placement);
  const expanded = ctx.expanded.expandedIn(
    place,
    messages.map(({ id }) => id),
  );
  const collapsed = messages.find(({ id }) => !expanded.has(id));
  return html`<div class="found room">
    <div class="told ${collapsed?.severity}">${
      messages.length > 0
        ? html`<button class="plain" type="button" aria-expanded=${!collapsed} @click=${() => ctx.expanded.setExpanded(place, collapsed !== undefined)}>${ui('noticed', { count: messages.length })}</button>${
            collapsed
              ? html`<span role=${collapsed.title ? nothing : 'alert'}><strong>${collapsed.title}</strong> ${collapsed.text}</span>${collapsed.action}`
              : nothing
          }`
        : checking
          ? html`<span>${ui('checking')}</span>`
          : checking === false
            ? html`<span class="good">${ui('no-findings')}</span>`
            : nothing
    }</div>
    ${
      placement.remedies.length > 0
        ? html`<p class="note">${ui('mended')}:
          ${placement.remedies.map(
            (applied, index) => html`${remedy(applied.kind)}
              <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('take-back')}: ${remedy(applied.kind)}`}
                @click=${() =>
                  setRemedies(
                    ctx,
                    line,
                    placement,
                    placement.remedies.filter((_, at) => at !== index),
                  )}>${ui('take-back')}</button>`,
          )}</p>`
        : nothing
    }
    ${messages.map(({ id, whole }) => (expanded.has(id) ? whole : nothing))}
  </div>`;
}
