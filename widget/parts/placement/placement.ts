import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import { PLACEMENTS_MAX } from '../../draft/draft-limits.ts';
import type { PublicBlank, SlipContext } from '../context.ts';
import { faultPlace } from '../fields/field-error.ts';
import { angleField, lengthField } from '../fields/number-field.ts';
import { findingsOf } from './findings.ts';

/** One placement: its picture, its numbers, what the check noticed. */
export function placementPart(
  ctx: SlipContext,
  line: DraftLine,
  blank: PublicBlank,
  placement: DraftPlacement,
): TemplateResult {
  const { ui } = ctx.words;
  const item = ctx.shelf.item(placement.artwork);
  const preview = ctx.shelf.previewOf(placement.artwork, placement.remedies);
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
      <div class="note">${face ? ctx.text(face.name) : nothing} · ${ctx.say.len(placement.widthMm)}</div>
      <div class="sent">${item?.state === 'sending' ? html`<progress max="1" .value=${item.sent} aria-label=${ui('sending', { name })}></progress>` : nothing}</div>
      <div class="acts no-print">
        <button class="plain" type="button" aria-expanded=${open} aria-label=${`${ui('adjust')}: ${label}`}
          @click=${() => {
            ctx.toggle(`place ${line.id} ${placement.id}`, !open);
            ctx.activate(line.id, placement.face, open ? null : placement.id);
          }}>${ui('adjust')}</button>
        <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('remove')}: ${label}`}
          @click=${() => ctx.changePlacement(line.id, placement.id, () => null)}>${ui('remove')}</button>
      </div>
    </div>
    ${open ? html`<div class="more">${fields(ctx, line, blank, placement)}</div>` : nothing}
    ${findingsOf(ctx, line, placement)}
  </div>`;
}

function fields(
  ctx: SlipContext,
  line: DraftLine,
  blank: PublicBlank,
  placement: DraftPlacement,
): TemplateResult {
  const { ui } = ctx.words;
  const face = blank.faces.find((entry) => entry.id === placement.face);
  const others = blank.faces.filter((entry) => entry.id !== placement.face);
  const length = (
    key: 'xMm' | 'yMm' | 'widthMm',
    label: string,
    least: number,
    most: number,
  ): TemplateResult =>
    lengthField(ctx, label, placement[key], least, most, (mm) =>
      ctx.changePlacement(line.id, placement.id, (old) => ({ ...old, [key]: mm })),
    );
  const elsewhere = ctx.draft.lines.flatMap((other, index) => {
    const faces = ctx.blankOf(other)?.faces ?? [];
    const to = faces.find((entry) => entry.id === placement.face) ?? faces[0];
    if (other.id === line.id || !to) return [];
    const name = ui('line-of', { number: index + 1, name: ctx.text(ctx.blankOf(other)?.name) });
    return [
      html`<button class="plain" type="button" aria-label=${ui('duplicate-to', { name })}
        ?disabled=${ctx.disabled || other.placements.length >= PLACEMENTS_MAX}
        @click=${() => ctx.duplicate(line.id, placement.id, to.id, other.id)}>${name}</button>`,
    ];
  });
  return html`<div class="figures">
      <label class="wide">${ui('face')}
        <select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => ctx.moveTo(line.id, placement.id, (event.target as HTMLSelectElement).value)}>
          ${blank.faces.map((entry) => html`<option value=${entry.id} ?selected=${entry.id === placement.face}>${ctx.text(entry.name)}</option>`)}
        </select></label>
      ${length('widthMm', ui('width'), 1, 3000)}
      ${length('xMm', ui('from-center'), -3000, 3000)}
      ${length('yMm', ui('from-top'), -3000, 3000)}
      ${angleField(ctx, placement.angleDeg, (angleDeg) =>
        ctx.changePlacement(line.id, placement.id, (old) => ({ ...old, angleDeg })),
      )}
    </div>
    ${faultPlace(`faults-${line.id}-${placement.id}`)}
    ${
      face && face.usual.length > 0
        ? html`<div class="acts" role="group" aria-label=${ui('usual-positions')}><span class="label">${ui('usual-positions')}</span>
            ${face.usual.map(
              (usual) => html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                @click=${() =>
                  ctx.changePlacement(line.id, placement.id, (old) => ({
                    ...old,
                    xMm: usual.xMm,
                    yMm: usual.yMm,
                    widthMm: usual.widthMm,
                    angleDeg: 0,
                  }))}>${ctx.text(usual.name)}</button>`,
            )}</div>`
        : nothing
    }
    ${
      others.length + elsewhere.length > 0
        ? html`<div class="acts" role="group" aria-label=${ui('also-on')}><span class="label">${ui('also-on')}</span>
            ${others.map(
              (
                entry,
              ) => html`<button class="plain" type="button" aria-label=${ui('duplicate-to', { name: ctx.text(entry.name) })}
                ?disabled=${ctx.disabled || line.placements.length >= PLACEMENTS_MAX}
                @click=${() => ctx.duplicate(line.id, placement.id, entry.id)}>${ctx.text(entry.name)}</button>`,
            )}${elsewhere}</div>`
        : nothing
    }`;
}
