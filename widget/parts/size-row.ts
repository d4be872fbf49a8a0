import { html, nothing, type TemplateResult } from 'lit';
import { type DraftLine, piecesIn, withCount } from '../controllers/draft.ts';
import { COUNT_MAX } from '../controllers/limits.ts';
import type { PublicBlank, SlipContext } from './context.ts';
import { faultPlace, judge } from './field-fault.ts';

/** Row 3: how many of each size. A block copied from a spreadsheet may be pasted into any of its fields. */
export function sizeRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  if (!blank) return nothing;
  const order = blank.sizes.map((size) => size.id);
  const pieces = piecesIn(line);

  const type = (size: string, field: HTMLInputElement): void => {
    // digits of any width, and Arabic and Persian ones, whose codes end in the figure they mean
    const text = field.value
      .normalize('NFKC')
      .trim()
      .replace(/[٠-٩۰-۹]/g, (digit) => String(digit.charCodeAt(0) & 15));
    const value = Number(text);
    const good = /^\d*$/.test(text) && value <= COUNT_MAX;
    judge(field, good ? '' : ctx.words.ui('count-range', { most: COUNT_MAX }));
    if (good)
      ctx.changeLine(line.id, (old) => withCount(old, size, value, order), `count ${line.id} ${size}`);
  };

  const paste = async (event: ClipboardEvent, from: string): Promise<void> => {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    // one plain number is typing, not a table
    if (/^\s*\d*\s*$/.test(text)) return;
    event.preventDefault();
    const { readCounts } = await ctx.later.readCounts.fetch();
    const counts = readCounts(text, namesOf(ctx, blank), from);
    if (counts.length > 0)
      ctx.changeLine(line.id, (old) =>
        counts.reduce((next, { size, count }) => withCount(next, size, count, order), old),
      );
  };

  return html`<fieldset class="row" part="sizes">
    <legend>${ctx.words.ui('sizes')}<span class="leader"></span
      ><span class="chosen">${pieces > 0 ? ctx.words.ui('pieces', { count: pieces }) : nothing}</span></legend>
    <div class="sizes">
      ${blank.sizes.map((size) => {
        const count = line.counts.find((entry) => entry.size === size.id)?.count ?? 0;
        const extra = Number(size.surcharge) > 0 ? ctx.say.moreOrLess(size.surcharge) : '';
        return html`<label class="size">
          <span>${ctx.text(size.name)}</span>
          <input class="field count" type="text" inputmode="numeric" autocomplete="off" maxlength="5"
            .value=${count > 0 ? String(count) : ''} placeholder="0" ?disabled=${ctx.disabled}
            @input=${(event: Event) => type(size.id, event.target as HTMLInputElement)}
            @paste=${(event: ClipboardEvent) => paste(event, size.id)} />
          ${extra ? html`<span class="plus">${extra}</span>` : nothing}
        </label>`;
      })}
    </div>
    ${faultPlace(`faults-sizes-${line.id}`)}
  </fieldset>`;
}

function namesOf(ctx: SlipContext, blank: PublicBlank): { id: string; names: string[] }[] {
  return blank.sizes.map((size) => ({
    id: size.id,
    names: [size.id, ctx.text(size.name), typeof size.name === 'string' ? size.name : (size.name.en ?? '')],
  }));
}
