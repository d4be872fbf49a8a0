import { html, nothing, type TemplateResult } from 'lit';
import { type DraftLine, piecesIn, withCount } from '../../draft/draft.ts';
import { COUNT_MAX } from '../../draft/draft-limits.ts';
import { parseWholeNumber, toAsciiDigits } from '../../draft/whole-number.ts';
import type { PublicBlank, SlipContext } from '../context.ts';
import { fieldErrors, setFieldError } from '../fields/field-error.ts';
import { noticePart } from '../fields/notice.ts';

/** How many refused cells are described one by one; the rest is counted. */
const REFUSED_SHOWN = 5;

/** Row 3: the count of each size. Cells copied from a spreadsheet may be pasted into any of its fields. */
export function sizeRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  if (!blank) return nothing;
  const { ui } = ctx.words;
  const order = blank.sizes.map((size) => size.id);
  const pieces = piecesIn(line);
  const noticeKey = `sizes ${line.id}`;
  const surcharges = surchargesOf(ctx, blank);

  const setCount = (size: string, field: HTMLInputElement): void => {
    const value = toAsciiDigits(field.value) === '' ? 0 : parseWholeNumber(field.value, COUNT_MAX);
    setFieldError(field, value === null ? ui('count-range', { most: COUNT_MAX }) : '');
    if (ctx.notice(noticeKey)) ctx.setNotice(noticeKey, '');
    if (value !== null)
      ctx.editLine(line.id, (old) => withCount(old, size, value, order), `count ${line.id} ${size}`);
  };

  const paste = async (event: ClipboardEvent, from: string): Promise<void> => {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    // a single number is pasted as usual
    if (toAsciiDigits(text) === '' || parseWholeNumber(text, COUNT_MAX) !== null) return;
    event.preventDefault();
    const { parseCounts } = await ctx.deferred.readCounts.fetch();
    const { counts, refused } = parseCounts(text, namedSizes(ctx, blank), from);
    if (counts.length > 0)
      ctx.editLine(line.id, (old) =>
        counts.reduce((next, { size, count }) => withCount(next, size, count, order), old),
      );
    const shown = refused
      .slice(0, REFUSED_SHOWN)
      .map((cell) => ui('cell-refused', { ...cell, most: COUNT_MAX }));
    const more = refused.length - shown.length;
    ctx.setNotice(
      noticeKey,
      [...shown, ...(more > 0 ? [ui('cells-refused', { count: more })] : [])].join('\n'),
    );
  };

  return html`<fieldset class="row" part="sizes">
    <legend>${ui('sizes')}<span class="leader"></span
      ><span class="chosen">${pieces > 0 ? ui('pieces', { count: pieces }) : nothing}</span></legend>
    <div class="sizes">
      ${blank.sizes.map((size) => {
        const count = line.counts.find((entry) => entry.size === size.id)?.count ?? 0;
        const extra = surcharges.get(size.surcharge)?.text;
        return html`<label class="size">
          <span dir="auto">${ctx.text(size.name)}</span>
          <input class="field count" type="text" inputmode="numeric" autocomplete="off" maxlength="5"
            .value=${count > 0 ? String(count) : ''} placeholder="0" ?disabled=${ctx.disabled}
            @input=${(event: Event) => setCount(size.id, event.target as HTMLInputElement)}
            @paste=${(event: ClipboardEvent) => paste(event, size.id)} />
          ${extra ? html`<span class="sr">${extra}</span>` : nothing}
        </label>`;
      })}
    </div>
    ${
      surcharges.size > 0
        ? html`<p class="note surcharges" aria-hidden="true">${[...surcharges.values()].map(
            ({ text, names }) => html`<span><bdi>${names.join(', ')}</bdi> ${text}</span>`,
          )}</p>`
        : nothing
    }
    ${fieldErrors(`faults-sizes-${line.id}`)}
    ${noticePart(ctx, noticeKey)}
  </fieldset>`;
}

/** The surcharges of sizes, each with the sizes that have it. They stand below the fields, which are too narrow. */
function surchargesOf(ctx: SlipContext, blank: PublicBlank): Map<string, { text: string; names: string[] }> {
  const found = new Map<string, { text: string; names: string[] }>();
  for (const { surcharge, name } of blank.sizes) {
    if (!(Number(surcharge) > 0)) continue;
    const entry = found.get(surcharge) ?? { text: ctx.format.moreOrLess(surcharge), names: [] };
    entry.names.push(ctx.text(name));
    found.set(surcharge, entry);
  }
  return found;
}

/** The sizes of a blank, with all names a pasted list may use. */
export function namedSizes(ctx: SlipContext, blank: PublicBlank): { id: string; names: string[] }[] {
  return blank.sizes.map(({ id, name }) => ({
    id,
    names: [id, ctx.text(name), ...(typeof name === 'string' ? [name] : Object.values(name))],
  }));
}
