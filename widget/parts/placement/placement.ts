import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { PublicBlank, SlipContext } from '../context.ts';
import { artworkMessages } from './artwork-messages.ts';
import { placementFields } from './placement-fields.ts';

/** One placement: its picture, its fields and what the check found. */
export function placementPart(
  ctx: SlipContext,
  line: DraftLine,
  blank: PublicBlank,
  placement: DraftPlacement,
): TemplateResult {
  const { ui } = ctx.words;
  const item = ctx.library.item(placement.artwork);
  const preview = ctx.library.previewOf(placement.artwork, placement.remedies);
  const face = blank.faces.find((entry) => entry.id === placement.face);
  const open = ctx.isOpen(`place ${line.id} ${placement.id}`) || ctx.selected === placement.id;
  const name = item?.name || ui('artwork');
  const label = `${name}, ${face ? ctx.text(face.name) : placement.face}`;
  return html`<div class="placement" part="placement" role="group" aria-label=${label}>
    <div class="thumb" @click=${() => ctx.activate(line.id, placement.face, placement.id)}>
      ${preview ? html`<img src=${preview} alt="" />` : nothing}
    </div>
    <div class="what">
      <div class="name" title=${name}><bdi>${name}</bdi></div>
      <div class="note">${face ? ctx.text(face.name) : nothing} · ${ctx.format.len(placement.widthMm)}</div>
      <div class="sent">${item?.state === 'sending' ? html`<progress max="1" .value=${item.sent} aria-label=${ui('sending', { name })}></progress>` : nothing}</div>
      <div class="acts no-print">
        <button class="plain" type="button" aria-expanded=${open} aria-label=${`${ui('adjust')}: ${label}`}
          @click=${() => {
            ctx.toggle(`place ${line.id} ${placement.id}`, !open);
            ctx.activate(line.id, placement.face, open ? null : placement.id);
          }}>${ui('adjust')}</button>
        <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('remove')}: ${label}`}
          @click=${() => ctx.editPlacement(line.id, placement.id, () => null)}>${ui('remove')}</button>
      </div>
    </div>
    ${open ? html`<div class="more">${placementFields(ctx, line, blank, placement)}</div>` : nothing}
    ${artworkMessages(ctx, line, placement)}
  </div>`;
}
