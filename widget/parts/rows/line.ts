import { html, nothing, type TemplateResult } from 'lit';
import { type DraftLine, firstFace, firstMissing, piecesIn } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';
import { addNamesButton } from './add-names.ts';
import { artworkRow } from './artwork-row.ts';
import { colorRow } from './color-row.ts';
import { finishRow } from './finish-row.ts';
import { itemRow } from './item-row.ts';
import { sizeRow } from './size-row.ts';

/** A numbered line of the slip: all its rows while it is active, else a summary. */
export function linePart(ctx: SlipContext, line: DraftLine, index: number): TemplateResult {
  const { ui } = ctx.words;
  const several = ctx.draft.lines.length > 1;
  const active = line.id === ctx.activeLine || !several;
  const blank = ctx.blankOf(line);
  const quoted = ctx.quotedLine(line.id);
  const title = blank ? ctx.text(blank.name) : ui('new-item');
  return html`<section class="piece" data-line=${line.id} part="line" aria-label=${ui('line-of', { number: index + 1, name: title })}>
    <div class="piece-head">
      <span class="number" aria-hidden="true">${ctx.format.n(index + 1)}</span>
      <h3>${
        several
          ? html`<button class="plain" type="button" aria-expanded=${active}
              @click=${() => ctx.activate(line.id, firstFace(line) ?? blank?.faces[0]?.id ?? null, null)}>${title}</button>`
          : title
      }</h3>
      ${quoted && several ? html`<span class="note">${ctx.format.money(quoted.total)}</span>` : nothing}
    </div>
    ${active ? rows(ctx, line, several) : summary(ctx, line)}
  </section>`;
}

function rows(ctx: SlipContext, line: DraftLine, several: boolean): TemplateResult {
  const { ui } = ctx.words;
  const { names, ladder } = ctx.deferred;
  const rungs = ctx.quotedLine(line.id)?.ladder.length;
  return html`${itemRow(ctx, line)} ${colorRow(ctx, line)} ${sizeRow(ctx, line)} ${artworkRow(ctx, line)}
    ${addNamesButton(ctx, line)} ${line.names ? names.value?.namesRow(ctx, line) : nothing} ${finishRow(ctx, line)} ${line.blank && rungs === undefined ? emptyLadder(ctx) : (rungs ?? 0) > 1 ? (ladder.value?.priceLadder(ctx, line) ?? emptyLadder(ctx)) : nothing}
    <div class="acts no-print">
      <button class="plain" type="button" ?disabled=${ctx.disabled || !line.blank} @click=${() => ctx.duplicateLine(line.id)}>${ui('duplicate-line')}</button>
      ${
        several
          ? html`<button class="plain" type="button" ?disabled=${ctx.disabled}
              @click=${() => ctx.edit((old) => ({ ...old, lines: old.lines.filter((entry) => entry.id !== line.id) }))}>${ui('remove-line')}</button>`
          : nothing
      }
    </div>`;
}

/** Reserves the space of the prices that an answer will bring. */
function emptyLadder(ctx: SlipContext): TemplateResult {
  return html`<div class="row room">
    <div class="row-title">${ctx.words.ui('price-by-count')}<span class="leader"></span></div>
    <div class="rungs" aria-busy=${ctx.quote.isLoading}></div>
  </div>`;
}

function summary(ctx: SlipContext, line: DraftLine): TemplateResult {
  const missing = firstMissing(line);
  const color = ctx.blankOf(line)?.colors.find((entry) => entry.id === line.color);
  const facts = [
    ctx.words.ui('pieces', { count: piecesIn(line) }),
    color ? ctx.text(color.name) : '',
    missing ? ctx.words.ui(`lack-${missing}`) : '',
  ];
  return html`<p class="note">${facts.filter(Boolean).join(' · ')}</p>`;
}
