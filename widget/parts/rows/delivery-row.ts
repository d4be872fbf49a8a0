import { html, nothing, type TemplateResult } from 'lit';
import type { SlipContext } from '../context.ts';

/** The last rows: the delivery, the day the order is needed by, and rush. */
export function deliveryRow(
  ctx: SlipContext,
  today: string,
  month: string,
  showMonth: (month: string) => void,
): TemplateResult {
  const { ui } = ctx.words;
  const { draft, catalog } = ctx;
  const { answer } = ctx.quote;
  const rush = answer?.instead.find((entry) => entry.change.kind === 'rush');
  return html`<fieldset class="row" part="delivery">
      <legend>${ui('delivery')}</legend>
      <div class="options">
        ${catalog.deliveries.map(
          (way) => html`<label class="option">
            <input type="radio" name="delivery" .checked=${way.id === draft.delivery} ?disabled=${ctx.disabled}
              @change=${() => ctx.edit((old) => ({ ...old, delivery: way.id }))} />
            <span>${ctx.text(way.name)}</span>
            <span class="delta">${Number(way.price) > 0 ? ctx.format.moreOrLess(way.price) : nothing}</span>
          </label>`,
        )}
      </div>
    </fieldset>
    <div class="row" role="group" aria-label=${ui('needed-by')} part="needed-by">
      <div class="row-title">${ui('needed-by')}<span class="leader"></span
        ><span class="chosen">${draft.neededBy ? ctx.format.day(draft.neededBy) : ui('no-day')}</span></div>
      <div class="acts">
        <button class="plain" type="button" aria-expanded=${ctx.isOpen('days')} @click=${() => ctx.toggle('days')}>
          ${ui('choose-day')}</button>
        ${
          draft.neededBy
            ? html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                @click=${() => ctx.edit((old) => ({ ...old, neededBy: null }))}>${ui('any-day')}</button>`
            : nothing
        }
      </div>
      ${ctx.isOpen('days') ? (ctx.deferred.calendar.value?.calendar(ctx, today, month, showMonth) ?? nothing) : nothing}
    </div>
    ${
      !catalog.rush
        ? nothing
        : draft.rush || !rush || rush.possible
          ? html`<label class="check"><input type="checkbox" .checked=${draft.rush} ?disabled=${ctx.disabled}
            @change=${(event: Event) => {
              const rushed = (event.target as HTMLInputElement).checked;
              ctx.edit((old) => ({ ...old, rush: rushed }));
            }} /><span>${ui('rush')}
            ${rush?.possible && !draft.rush ? html`<span class="note">${ui('rush-would', { fee: rush.difference, day: rush.day })}</span>` : nothing}</span></label>`
          : html`<div class="check no-print"></div>`
    }`;
}
