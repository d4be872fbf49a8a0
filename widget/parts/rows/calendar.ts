import { html, nothing, type TemplateResult } from 'lit';
import { monthGrid, shiftMonth } from '../../draft/month-grid.ts';
import type { SlipContext } from '../context.ts';

/** A month of days; those that are not possible are disabled. */
export function calendar(
  ctx: SlipContext,
  today: string,
  month: string,
  showMonth: (month: string) => void,
): TemplateResult {
  const { ui } = ctx.words;
  const { formatter } = ctx.format;
  const { first, names } = formatter.weekdays();
  const { answer } = ctx.quote;
  const earliest = answer?.kind === 'quote' ? answer.promise.day : earliestDayOfRefusal(ctx);
  const chosen = ctx.draft.neededBy;
  return html`<div class="month">
      <button class="box" type="button" ?disabled=${month <= today.slice(0, 7)} aria-label=${ui('month-before')}
        @click=${() => showMonth(shiftMonth(month, -1))}>‹</button>
      <span aria-live="polite">${formatter.month(`${month}-01`)}</span>
      <button class="box" type="button" aria-label=${ui('month-after')} @click=${() => showMonth(shiftMonth(month, 1))}>›</button>
    </div>
    <div class="days" role="group" aria-label=${formatter.month(`${month}-01`)}>
      ${names.map((name) => html`<span aria-hidden="true">${name}</span>`)}
      ${monthGrid(month, first).map((day) =>
        day === null
          ? html`<span></span>`
          : html`<button type="button" class=${day === earliest ? 'first' : ''}
              ?disabled=${ctx.disabled || day < today || (earliest !== null && day < earliest)}
              aria-pressed=${day === chosen} aria-label=${formatter.fullDay(day)}
              @click=${() => ctx.edit((old) => ({ ...old, neededBy: day }))}>${formatter.number(Number(day.slice(8)))}</button>`,
      )}
    </div>
    <p class="note earliest">${earliest ? ui('earliest-day', { day: earliest }) : nothing}</p>`;
}

/** The earliest possible day, where the day asked for was refused as too early. */
function earliestDayOfRefusal(ctx: SlipContext): string | null {
  const { answer } = ctx.quote;
  if (answer?.kind !== 'refusal') return null;
  const early = answer.reasons.find((entry) => entry.code === 'needed-by-too-early');
  return typeof early?.params.earliest === 'string' ? early.params.earliest : null;
}
