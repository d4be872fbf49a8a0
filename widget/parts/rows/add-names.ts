import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';

/** The button that adds a name or number to each piece, where the shop has a font for it. */
export function addNamesButton(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  if (!line.blank || line.names || ctx.catalog.fonts.length === 0) return nothing;
  return html`<div class="acts"><button class="plain" type="button" ?disabled=${ctx.disabled}
    @click=${() =>
      void ctx.deferred.names.fetch().then(
        (part) => part.startNames(ctx, line),
        () => {},
      )}>
    ${ctx.words.ui('add-names')}</button></div>`;
}
