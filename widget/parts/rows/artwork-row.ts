import { html, nothing, type TemplateResult } from 'lit';
import { ACCEPTED } from '../../artwork/accepted-types.ts';
import type { DraftLine } from '../../draft/draft.ts';
import { PLACEMENTS_MAX } from '../../draft/draft-limits.ts';
import type { SlipContext } from '../context.ts';

/** Row 4: the artworks and where they go. Files are added by the button, or dropped here or on the drawing. */
export function artworkRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  if (!blank) return nothing;
  const { ui } = ctx.words;
  const pending = ctx.pendingFiles(line.id);
  const total = line.placements.length + pending.length;
  const full = total >= PLACEMENTS_MAX;
  const others = ctx.library.items.filter(({ state }) => state !== 'failed');
  return html`<div class="row" role="group" aria-label=${ui('artwork')} part="artwork">
    <div class="row-title">${ui('artwork')}<span class="leader"></span
      ><span class="chosen">${line.placements.length > 0 ? ui('placements', { count: line.placements.length }) : nothing}</span></div>
    ${line.placements.map((placement) => ctx.deferred.placement.value?.placementPart(ctx, line, blank, placement) ?? (placement.id === ctx.selected ? pendingPlacement('') : html`<div class="placement" aria-busy="true"></div>`))}
    ${pending.map(pendingPlacement)}
    ${
      full
        ? nothing
        : html`<div class="drop"
            @dragover=${(event: DragEvent) => {
              event.preventDefault();
              (event.currentTarget as Element).classList.add('over');
            }}
            @dragleave=${(event: DragEvent) => (event.currentTarget as Element).classList.remove('over')}
            @drop=${(event: DragEvent) => {
              event.preventDefault();
              (event.currentTarget as Element).classList.remove('over');
              ctx.addFiles(line.id, event.dataTransfer?.files ?? []);
            }}>
            <button class="box" type="button" ?disabled=${ctx.disabled}
              @click=${(event: Event) => ((event.currentTarget as Element).nextElementSibling as HTMLInputElement).click()}>
              ${ui('add-artwork')}
            </button>
            <input class="sr" type="file" tabindex="-1" aria-hidden="true" multiple accept=${ACCEPTED}
              @change=${(event: Event) => {
                const field = event.target as HTMLInputElement;
                ctx.addFiles(line.id, [...(field.files ?? [])]);
                field.value = '';
              }} />
            <span>${ui('drop-here')}</span>${total === 0 ? html`<span class="note">${ui('file-kinds')}</span>` : nothing}
            ${
              others.length > 0
                ? html`<span class="acts">${others.map((item) =>
                    item.name
                      ? html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                      @click=${() => ctx.placeAgain(line.id, item.id)}>${ui('use-again', { name: item.name })}</button>`
                      : html`<i></i>`,
                  )}</span>`
                : nothing
            }
          </div>`
    }
  </div>`;
}

/** Reserves the space of a placement that is about to appear, so that nothing moves when it does. */
function pendingPlacement(name: string): TemplateResult {
  return html`<div class="arriving" aria-busy="true"><bdi>${name}</bdi></div>`;
}
