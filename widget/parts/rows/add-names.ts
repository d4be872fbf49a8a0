import { html, nothing, type TemplateResult } from 'lit';
import type { DraftLine } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';

/** The offer to put a name or number on each piece, where the shop has a face of type for it. */
export function namesAdd(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  if (!line.blank || line.names || ctx.catalog.fonts.length === 0) return nothing;
  return html`<div class="acts"><button class="plain" type="button" ?disabled=${ctx.disabled}
    @click=${() =>
      void ctx.later.names.fetch().then(
        (part) => part.startNames(ctx, line),
        () => {},
      )}>
    ${ctx.words.ui('add-names')}</button></div>`;
}
