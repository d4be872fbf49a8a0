import { html, nothing, type TemplateResult } from 'lit';
import { type DraftLine, piecesIn, withCount } from '../../draft/draft.ts';
import { COUNT_MAX } from '../../draft/draft-limits.ts';
import { plainDigits, wholeNumber } from '../../draft/whole-number.ts';
import { memoPart, type PublicBlank, type SlipContext } from '../context.ts';
import { faultPlace, judge } from '../fields/field-error.ts';

/** Cells that were not taken are named up to so many; the rest is counted. */
const REFUSED_NAMED = 5;

/** Row 3: how many of each size. A block copied from a spreadsheet may be pasted into any of its fields. */
export function sizeRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  if (!blank) return nothing;
  const { ui } = ctx.words;
  const order = blank.sizes.map((size) => size.id);
  const pieces = piecesIn(line);
  const memo = `sizes ${line.id}`;
  const surcharges = surchargesOf(ctx, blank);

  const type = (size: string, field: HTMLInputElement): void => {
    const value = plainDigits(field.value) === '' ? 0 : wholeNumber(field.value, COUNT_MAX);
    judge(field, value === null ? ui('count-range', { most: COUNT_MAX }) : '');
    if (ctx.memo(memo)) ctx.setMemo(memo, '');
    if (value !== null)
      ctx.changeLine(line.id, (old) => withCount(old, size, value, order), `count ${line.id} ${size}`);
  };

  const paste = async (event: ClipboardEvent, from: string): Promise<void> => {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    // one plain number is typing, not a table
    if (plainDigits(text) === '' || wholeNumber(text, COUNT_MAX) !== null) return;
    event.preventDefault();
    const { readCounts } = await ctx.later.readCounts.fetch();
    const { counts, refused } = readCounts(text, namedSizes(ctx, blank), from);
    if (counts.length > 0)
      ctx.changeLine(line.id, (old) =>
        counts.reduce((next, { size, count }) => withCount(next, size, count, order), old),
      );
    const named = refused
      .slice(0, REFUSED_NAMED)
      .map((cell) => ui('cell-refused', { ...cell, most: COUNT_MAX }));
    const more = refused.length - named.length;
    ctx.setMemo(memo, [...named, ...(more > 0 ? [ui('cells-refused', { count: more })] : [])].join('\n'));
  };

  return html`<fieldset class="row" part="sizes">
    <legend>${ui('sizes')}<span class="leader"></span
      ><span class="chosen">${pieces > 0 ? ui('pieces', { count: pieces }) : nothing}</span></legend>
    <div class="sizes">
      ${blank.sizes.map((size) => {
        const count = line.counts.find((entry) => entry.size === size.id)?.count ?? 0;
        const extra = surcharges.get(size.surcharge)?.said;
        return html`<label class="size">
          <span dir="auto">${ctx.text(size.name)}</span>
          <input class="field count" type="text" inputmode="numeric" autocomplete="off" maxlength="5"
            .value=${count > 0 ? String(count) : ''} placeholder="0" ?disabled=${ctx.disabled}
            @input=${(event: Event) => type(size.id, event.target as HTMLInputElement)}
            @paste=${(event: ClipboardEvent) => paste(event, size.id)} />
          ${extra ? html`<span class="sr">${extra}</span>` : nothing}
        </label>`;
      })}
    </div>
    ${
      surcharges.size > 0
        ? html`<p class="note surcharges" aria-hidden="true">${[...surcharges.values()].map(
            ({ said, names }) => html`<span><bdi>${names.join(', ')}</bdi> ${said}</span>`,
          )}</p>`
        : nothing
    }
    ${faultPlace(`faults-sizes-${line.id}`)}
    ${memoPart(ctx, memo)}
  </fieldset>`;
}

/** What some sizes cost more, each amount once with the sizes that share it: a narrow field has no room to say it. */
function surchargesOf(ctx: SlipContext, blank: PublicBlank): Map<string, { said: string; names: string[] }> {
  const found = new Map<string, { said: string; names: string[] }>();
  for (const { surcharge, name } of blank.sizes) {
    if (!(Number(surcharge) > 0)) continue;
    const entry = found.get(surcharge) ?? { said: ctx.say.moreOrLess(surcharge), names: [] };
    entry.names.push(ctx.text(name));
    found.set(surcharge, entry);
  }
  return found;
}

/** Sizes with every name they may go by in a pasted list. */
export function namedSizes(ctx: SlipContext, blank: PublicBlank): { id: string; names: string[] }[] {
  return blank.sizes.map(({ id, name }) => ({
    id,
    names: [id, ctx.text(name), ...(typeof name === 'string' ? [name] : Object.values(name))],
  }));
}
