import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import { PLACEMENTS_MAX } from '../../draft/draft-limits.ts';
import type { PublicBlank, SlipContext } from '../context.ts';
import { fieldErrors } from '../fields/field-error.ts';
import { angleField, lengthField } from '../fields/number-field.ts';

/** Face, width, position and angle of a placement, its usual positions, and copies on other faces and lines. */
export function placementFields(
  ctx: SlipContext,
  line: DraftLine,
  blank: PublicBlank,
  placement: DraftPlacement,
): TemplateResult {
  const { ui } = ctx.words;
  const face = blank.faces.find((entry) => entry.id === placement.face);
  const otherFaces = blank.faces.filter((entry) => entry.id !== placement.face);
  const length = (
    key: 'xMm' | 'yMm' | 'widthMm',
    label: string,
    least: number,
    most: number,
  ): TemplateResult =>
    lengthField(ctx, label, placement[key], least, most, (mm) =>
      ctx.editPlacement(line.id, placement.id, (old) => ({ ...old, [key]: mm })),
    );
  const otherLines = ctx.draft.lines.flatMap((other, index) => {
    const faces = ctx.blankOf(other)?.faces ?? [];
    const target = faces.find((entry) => entry.id === placement.face) ?? faces[0];
    if (other.id === line.id || !target) return [];
    const name = ui('line-of', { number: index + 1, name: ctx.text(ctx.blankOf(other)?.name) });
    return [
      html`<button class="plain" type="button" aria-label=${ui('duplicate-to', { name })}
        ?disabled=${ctx.disabled || other.placements.length >= PLACEMENTS_MAX}
        @click=${() => ctx.duplicate(line.id, placement.id, target.id, other.id)}>${name}</button>`,
    ];
  });
  return html`<div class="figures">
      <label class="wide">${ui('face')}
        <select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => ctx.moveToFace(line.id, placement.id, (event.target as HTMLSelectElement).value)}>
          ${blank.faces.map((entry) => html`<option value=${entry.id} ?selected=${entry.id === placement.face}>${ctx.text(entry.name)}</option>`)}
        </select></label>
      ${length('widthMm', ui('width'), 1, 3000)}
      ${length('xMm', ui('from-center'), -3000, 3000)}
      ${length('yMm', ui('from-top'), -3000, 3000)}
      ${angleField(ctx, placement.angleDeg, (angleDeg) =>
        ctx.editPlacement(line.id, placement.id, (old) => ({ ...old, angleDeg })),
      )}
    </div>
    ${fieldErrors(`faults-${line.id}-${placement.id}`)}
    ${
      face && face.usual.length > 0
        ? html`<div class="acts" role="group" aria-label=${ui('usual-positions')}><span class="label">${ui('usual-positions')}</span>
            ${face.usual.map(
              (usual) => html`<button class="plain" type="button" ?disabled=${ctx.disabled}
                @click=${() =>
                  ctx.editPlacement(line.id, placement.id, (old) => ({
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
      otherFaces.length + otherLines.length > 0
        ? html`<div class="acts" role="group" aria-label=${ui('also-on')}><span class="label">${ui('also-on')}</span>
            ${otherFaces.map(
              (
                entry,
              ) => html`<button class="plain" type="button" aria-label=${ui('duplicate-to', { name: ctx.text(entry.name) })}
                ?disabled=${ctx.disabled || line.placements.length >= PLACEMENTS_MAX}
                @click=${() => ctx.duplicate(line.id, placement.id, entry.id)}>${ctx.text(entry.name)}</button>`,
            )}${otherLines}</div>`
        : nothing
    }`;
}
