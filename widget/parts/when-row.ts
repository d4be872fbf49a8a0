import { html, nothing, type TemplateResult } from 'lit';
import { monthGrid, shiftMonth } from '../controllers/month-grid.ts';
import type { SlipContext } from './context.ts';

/** The last row: how it leaves the shop, by when, and whether an earlier day is worth paying for. */
export function whenRow(
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
              @change=${() => ctx.change((old) => ({ ...old, delivery: way.id }))} />
            <span>${ctx.text(way.name)}</span>
            <span class="delta">${Number(way.price) > 0 ? ctx.say.moreOrLess(way.price) : nothing}</span>
          </label>`,
        )}
      </div>
    </fieldset>
    <div class="row" role="group" aria-label=${ui('needed-by')} part="needed-by">
      <div class="row-title">${ui('needed-by')}<span class="leader"></span
        ><span class="chosen">${draft.neededBy ? ctx.say.day(draft.neededBy) : ui('no-day')}</span></div>
      <div class="acts">
        <button class="plain" type="button" aria-expanded=${ctx.isOpen('days') ? 'true' : 'false'} @click=${() => ctx.toggle('days')}>
          ${ui('choose-day')}</button>
        ${
          draft.neededBy
            ? html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                @click=${() => ctx.change((old) => ({ ...old, neededBy: null }))}>${ui('any-day')}</button>`
            : nothing
        }
      </div>
      ${ctx.isOpen('days') ? days(ctx, today, month, showMonth) : nothing}
    </div>
    ${
      catalog.rush
        ? html`<label class="check"><input type="checkbox" .checked=${draft.rush} ?disabled=${ctx.disabled}
            @change=${(event: Event) => {
              const rushed = (event.target as HTMLInputElement).checked;
              ctx.change((old) => ({ ...old, rush: rushed }));
            }} /><span>${ui('rush')}
            ${rush?.possible && !draft.rush ? html`<span class="note">${ui('rush-would', { fee: rush.difference, day: rush.day })}</span>` : nothing}</span></label>`
        : nothing
    }`;
}

function days(
  ctx: SlipContext,
  today: string,
  month: string,
  showMonth: (month: string) => void,
): TemplateResult {
  const { ui } = ctx.words;
  const { formatter } = ctx.say;
  const { first, names } = formatter.weekdays();
  const { answer } = ctx.quote;
  const earliest = answer?.kind === 'quote' ? answer.promise.day : earliestOf(ctx);
  const chosen = ctx.draft.neededBy;
  return html`<div class="acts">
      <button class="plain" type="button" ?disabled=${month <= today.slice(0, 7)} aria-label=${ui('month-before')}
        @click=${() => showMonth(shiftMonth(month, -1))}>${ui('month-before')}</button>
      <span class="note" aria-live="polite">${formatter.month(`${month}-01`)}</span>
      <button class="plain" type="button" aria-label=${ui('month-after')} @click=${() => showMonth(shiftMonth(month, 1))}>${ui('month-after')}</button>
    </div>
    <div class="days" role="group" aria-label=${formatter.month(`${month}-01`)}>
      ${names.map((name) => html`<span class="dow" aria-hidden="true">${name}</span>`)}
      ${monthGrid(month, first).map((day) =>
        day === null
          ? html`<span></span>`
          : html`<button type="button" class=${earliest && day >= earliest ? 'can' : ''}
              ?disabled=${ctx.disabled || day < today || (earliest !== null && day < earliest)}
              aria-pressed=${day === chosen ? 'true' : 'false'} aria-label=${formatter.fullDay(day)}
              @click=${() => ctx.change((old) => ({ ...old, neededBy: day }))}>${formatter.number(Number(day.slice(8)))}</button>`,
      )}
    </div>
    ${earliest ? html`<p class="note">${ui('earliest-day', { day: earliest })}</p>` : nothing}`;
}

function earliestOf(ctx: SlipContext): string | null {
  const { answer } = ctx.quote;
  if (answer?.kind !== 'refusal') return null;
  const early = answer.reasons.find((entry) => entry.code === 'needed-by-too-early');
  return typeof early?.params.earliest === 'string' ? early.params.earliest : null;
}
