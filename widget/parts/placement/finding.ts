import { html, nothing, type TemplateResult } from 'lit';
import type { Finding, Remedy } from '../../../src/contract/index.ts';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';
import { setRemedies } from './set-remedies.ts';

/** One finding of the check, with its remedies to preview and apply. */
export function findingPart(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
  finding: Finding,
  hex: string,
  title: string,
  text: string,
): TemplateResult {
  const { ui, remedy } = ctx.words;
  const preview = (remedies: readonly Remedy[]) => ctx.library.previewOf(placement.artwork, remedies);
  return html`<div class="finding ${finding.worst}" part="finding">
    <strong>${title}</strong> ${text}
    ${finding.remedies.map((offer, index) => {
      const remedies = [...placement.remedies, offer];
      const key = `mend ${line.id} ${placement.id} ${finding.code} ${index}`;
      const open = ctx.isOpen(key);
      if (placement.remedies.some((applied) => isSameRemedy(applied, offer))) return nothing;
      return html`<div>
        <button class="plain" type="button" aria-expanded=${open} ?disabled=${ctx.disabled}
          @click=${() => ctx.toggle(key)}>${remedy(offer.kind)}</button>
        ${
          open
            ? html`<div class="beforeafter">
                ${swatchPicture(ui('before'), preview(placement.remedies), hex)}
                ${swatchPicture(ui('after'), preview(remedies), hex)}
              </div>
              <button class="box" type="button" aria-label=${`${ui('apply')}: ${remedy(offer.kind)}`}
                ?disabled=${ctx.disabled || !ctx.library.exactFacts(placement.artwork, remedies)}
                @click=${() => {
                  ctx.toggle(key, false);
                  setRemedies(ctx, line, placement, remedies);
                }}>${ui('apply')}</button>`
            : nothing
        }
      </div>`;
    })}
  </div>`;
}

const isSameRemedy = (one: Remedy, other: Remedy): boolean => JSON.stringify(one) === JSON.stringify(other);

/** A picture on a swatch of the cloth. An SVG rectangle has the color, as a strict policy allows no style attribute. */
function swatchPicture(title: string, address: string | null, hex: string): TemplateResult {
  return html`<figure><svg class="swab" viewBox="0 0 120 90" role="img" aria-label=${title}>
    <rect width="120" height="90" fill=${hex}></rect>
    <image x="6" y="6" width="108" height="78" href=${address ?? ''}></image></svg>
    <figcaption>${title}</figcaption></figure>`;
}
